"""What is vendored is what the manifest says, and nothing of the page comes from elsewhere."""

import hashlib
import re
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
STATIC = ROOT / "casebank" / "static" / "casebank"
VENDOR = STATIC / "vendor"
MANIFEST = tomllib.loads((VENDOR / "VENDOR.toml").read_text())
FILES = [file for package in MANIFEST["package"] for file in package["file"]]
OWN_TEXT = [
    *(ROOT / "templates").rglob("*.html"),
    *STATIC.joinpath("css").glob("*.css"),
    *STATIC.joinpath("js").glob("*.js"),
    *STATIC.joinpath("img").glob("*.svg"),
]


def name_of(path: Path) -> str:
    return str(path.relative_to(ROOT))


@pytest.mark.parametrize("file", FILES, ids=lambda file: file["path"])
def test_a_vendored_file_has_the_digest_of_the_manifest(file):
    content = (VENDOR / file["path"]).read_bytes()
    assert hashlib.sha256(content).hexdigest() == file["sha256"]


def test_every_file_that_is_not_ours_is_in_the_manifest():
    known = {(VENDOR / file["path"]).resolve() for file in FILES}
    found = {
        path.resolve() for folder in ("vendor", "fonts") for path in (STATIC / folder).iterdir()
    }
    assert found - known == {(VENDOR / "VENDOR.toml").resolve()}


@pytest.mark.parametrize("package", MANIFEST["package"], ids=lambda package: package["name"])
def test_every_package_brings_its_licence(package):
    assert re.fullmatch(r"\d+\.\d+\.\d+", package["version"])
    assert package["licence_file"] in {file["path"] for file in package["file"]}


@pytest.mark.parametrize("path", OWN_TEXT, ids=name_of)
def test_a_page_loads_nothing_from_another_host(path):
    text = path.read_text().replace("http://www.w3.org/2000/svg", "")
    assert not re.search(r"""(?:src|href|url|import)\s*[=(]?\s*["']?(?:https?:)?//""", text)


@pytest.mark.parametrize("path", [p for p in OWN_TEXT if p.suffix == ".html"], ids=name_of)
def test_a_template_has_no_inline_style_script_or_handler(path):
    text = re.sub(r"{%.*?%}|{{.*?}}", "", path.read_text())
    assert not re.search(r"\sstyle\s*=|<style\b|\son[a-z]+\s*=|\shx-on\b|javascript:", text)
    for attributes in re.findall(r"<script\b([^>]*)>", text):
        assert "src=" in attributes or "application/json" in attributes


@pytest.mark.parametrize("path", OWN_TEXT, ids=name_of)
def test_no_file_of_ours_is_longer_than_three_hundred_lines(path):
    assert len(path.read_text().splitlines()) <= 300
