"""The browser of the browser tests: Debian's chromium, and pages that tolerate no error.

A test fails if its page logs an error, throws, or breaks the content security policy.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, ConsoleMessage, Page, sync_playwright

# Playwright's synchronous API runs a loop in this thread, which Django takes for async code.
os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"

HERE = Path(__file__).parent
CHROMIUM = os.environ.get("CHROMIUM") or shutil.which("chromium") or "/usr/bin/chromium"
ARGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--no-first-run",
]
REPORT_POLICY = """document.addEventListener("securitypolicyviolation", (event) =>
  console.error(`Content security policy: ${event.violatedDirective} ${event.blockedURI}`))"""


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark every test here, and skip it aloud where there is no chromium."""
    missing = pytest.mark.skip(
        reason=f"NOT RUN: no chromium at {CHROMIUM}. Install Debian's chromium or set CHROMIUM."
    )
    for item in items:
        if HERE in item.path.parents:
            item.add_marker(pytest.mark.browser)
            if not Path(CHROMIUM).exists():
                item.add_marker(missing)


@dataclass
class Guard:
    """Collects what went wrong in a page; ``expected`` are texts that may be logged."""

    problems: list[str] = field(default_factory=list)
    expected: list[str] = field(default_factory=list)

    def watch(self, page: Page) -> None:
        """Listen to a page from before its first script."""
        page.add_init_script(REPORT_POLICY)
        page.on("console", self._on_console)
        page.on("pageerror", lambda error: self.problems.append(f"thrown: {error}"))

    def _on_console(self, message: ConsoleMessage) -> None:
        if message.type == "error":
            self.problems.append(message.text)

    def unexpected(self) -> list[str]:
        """The problems that no test announced."""
        return [one for one in self.problems if not any(text in one for text in self.expected)]


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """One chromium for the whole run."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=ARGS)
        yield browser
        browser.close()


@pytest.fixture
def guard() -> Iterator[Guard]:
    """Fails the test at its end if any of its pages had a problem."""
    guard = Guard()
    yield guard
    assert guard.unexpected() == []


@pytest.fixture
def open_page(browser: Browser, guard: Guard, live_server: Any) -> Iterator[Callable[..., Page]]:
    """Opens pages with relative addresses; options are those of a Playwright context."""
    contexts = []

    def opening(size: tuple[int, int] = (1440, 900), **options: Any) -> Page:
        width, height = size
        context = browser.new_context(
            base_url=live_server.url, viewport={"width": width, "height": height}, **options
        )
        contexts.append(context)
        page = context.new_page()
        page.set_default_timeout(10_000)
        guard.watch(page)
        return page

    yield opening
    for context in contexts:
        context.close()


@pytest.fixture
def page(open_page: Callable[..., Page]) -> Page:
    """A page as on a laptop, by light."""
    return open_page()
