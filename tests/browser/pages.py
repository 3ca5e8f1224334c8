"""What browser tests ask of any page: who is signed in, whether it fits, whether axe is content."""

from __future__ import annotations

import json
from typing import Any

from axe_playwright_python.sync_playwright import Axe
from django.conf import settings
from django.test import Client
from playwright.sync_api import Page

PHONE, LAPTOP, WIDE = (320, 640), (1440, 900), (1920, 1080)
THEMES = ("light", "dark", "contrast")
AXE_TAGS = ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa"]
SMALLEST_TARGET = 44


def sign_in(page: Page, address: str, user: Any) -> None:
    """Sign this person in by a session cookie; the sign-in form has tests of its own."""
    client = Client()
    client.force_login(user)
    session = client.cookies[settings.SESSION_COOKIE_NAME].value
    cookie = {"name": settings.SESSION_COOKIE_NAME, "value": session, "url": address}
    page.context.add_cookies([cookie])  # type: ignore[list-item]


def choose_theme(page: Page, theme: str) -> None:
    """Light and dark as the system says; high contrast as chosen in the header."""
    page.emulate_media(color_scheme="dark" if theme == "dark" else "light")
    choice = "contrast" if theme == "contrast" else ""
    page.locator("[data-theme-choice]").select_option(choice)


def axe_problems(page: Page) -> list[str]:
    """What axe finds against WCAG A and AA: rule, count, and the first place."""
    options = {"runOnly": {"type": "tag", "values": AXE_TAGS}, "resultTypes": ["violations"]}
    found = Axe().run(page, options=options).response["violations"]
    return [
        f"{one['id']} x{len(one['nodes'])}: {one['help']}: {json.dumps(one['nodes'][0]['target'])} "
        f"{one['nodes'][0].get('failureSummary', '')}"
        for one in found
    ]


def overflow(page: Page) -> int:
    """How many pixels the page is wider than its window."""
    return int(
        page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
    )


def small_targets(page: Page) -> list[str]:
    """Buttons, inputs and links of navigation that are lower than 44 px; links in text are exempt."""
    script = """(least) => [...document.querySelectorAll(
        'button, select, summary, .button, .nav a, .masthead__link, .input,' +
        'input:not([type=checkbox], [type=radio], [type=hidden])')]
      .filter((one) => one.checkVisibility())
      .map((one) => [one.getBoundingClientRect().height, one.outerHTML.slice(0, 120)])
      .filter(([height]) => height > 0 && height < least - 0.5)
      .map(([height, html]) => `${height}px: ${html}`)"""
    return list(page.evaluate(script, SMALLEST_TARGET))


def assert_sound(page: Page) -> None:
    """Axe is content, nothing is cut off at the side, and every control can be hit."""
    assert axe_problems(page) == []
    assert overflow(page) <= 0
    assert small_targets(page) == []
