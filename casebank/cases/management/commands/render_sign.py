"""``manage.py render_sign SPEC.json OUT.(wav|flac|svg)``: one sign as a file."""

from __future__ import annotations

import json
from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from casebank.core.media.encode import to_flac_bytes, to_wav_bytes
from casebank.core.media.sign_files import SLOW, Rendition
from casebank.domain.signs import (
    AnySpec,
    SignError,
    Technique,
    alternative,
    drawing,
    parse,
    pitch_raised,
    render,
)

ENCODERS = {".wav": to_wav_bytes, ".flac": to_flac_bytes}


class Command(BaseCommand):
    """Deterministic from the specification and its seed. No database."""

    help = (
        "Render a sign from its specification: the same file gives the same bytes. The document "
        'is a specification, or {"spec": ..., "technique": {slot: value}}.'
    )
    requires_system_checks = ()

    def add_arguments(self, parser: ArgumentParser) -> None:
        """The files and how to look for the sign."""
        parser.add_argument("spec", type=Path, help="a specification in JSON")
        parser.add_argument("out", type=Path, help="where to write: .wav, .flac or .svg")
        parser.add_argument(
            "--technique", action="append", default=[], metavar="SLOT=VALUE",
            help="e.g. --technique site=apex --technique instrument=bell",
        )  # fmt: skip
        parser.add_argument(
            "--pitch-raised", action="store_true", help="300 Hz higher; not as at the bedside"
        )
        parser.add_argument(
            "--half-speed", action="store_true", help="twice as long, at the same pitch"
        )
        parser.add_argument("--words", action="store_true", help="print the text alternative")

    def handle(self, *args: Any, **options: Any) -> None:
        """Write the file and say what it holds."""
        try:
            spec, technique = _read(options["spec"], options["technique"])
            rendition = Rendition(options["pitch_raised"], options["half_speed"])
            content = _content(spec, technique, options["out"], rendition)
            words = alternative(spec, technique) if options["words"] else ""
        except SignError as failure:
            raise CommandError(str(failure)) from failure
        _write(options["out"], content)
        self.stdout.write(f"{options['out']}: {spec.kind}, {len(content)} bytes")
        if words:
            self.stdout.write(words)


def _read(file: Path, said: list[str]) -> tuple[AnySpec, Technique]:
    try:
        document = json.loads(file.read_text(encoding="utf-8"))
    except OSError as failure:
        raise CommandError(f"{file} cannot be read: {failure.strerror}") from failure
    except ValueError as failure:
        raise CommandError(f"{file} is not JSON: {failure}") from failure
    has_technique = isinstance(document, dict) and "spec" in document
    spec = parse(document["spec"] if has_technique else document)
    technique = dict(document.get("technique", {})) if has_technique else {}
    return spec, technique | _slots(said)


def _slots(said: list[str]) -> dict[str, str]:
    for pair in said:
        if "=" not in pair:
            raise CommandError(f"write --technique as slot=value, not {pair!r}")
    return dict(pair.split("=", 1) for pair in said)


def _content(spec: AnySpec, technique: Technique, out: Path, rendition: Rendition) -> bytes:
    if out.suffix == ".svg":
        return drawing(spec, technique).encode()
    if out.suffix not in ENCODERS:
        raise CommandError(f"{out.name}: end the name in .wav, .flac or .svg")
    shown = render(spec, technique, SLOW if rendition.is_slow else 1)
    if not shown.is_sound:
        raise CommandError(f"a {spec.kind} makes no sound; write it to a file ending in .svg")
    samples = pitch_raised(shown.samples) if rendition.is_raised else shown.samples
    return ENCODERS[out.suffix](samples, shown.rate)


def _write(out: Path, content: bytes) -> None:
    try:
        out.write_bytes(content)
    except OSError as failure:
        raise CommandError(f"{out} cannot be written: {failure.strerror}") from failure
