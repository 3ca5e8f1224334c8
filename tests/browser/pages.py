"""What browser tests ask of any page: who is signed in, whether it fits, whether axe is content."""

from __future__ import annotations

import json
from typing import Any

from axe_playwright_python.sync_playwright import Axe
from django.conf import settings
from django.test import Client
from playwright.sync_api import Locator, Page

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
    """Light and dark as the system says; high contrast as chosen in the footer."""
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
      .filter((one) => one.checkVisibility() && one.ariaHidden !== 'true')
      .map((one) => [one.getBoundingClientRect().height, one.outerHTML.slice(0, 120)])
      .filter(([height]) => height > 0 && height < least - 0.5)
      .map(([height, html]) => `${height}px: ${html}`)"""
    return list(page.evaluate(script, SMALLEST_TARGET))


def sticking_out(page: Page) -> list[str]:
    """The first things that reach beyond the window's edge and are not inside a scrolling part."""
    script = """() => [...document.querySelectorAll('body *')]
      .filter((one) => one.getBoundingClientRect().right > innerWidth + 0.5)
      .filter((one) => !one.parentElement.closest('.table-wrap, [data-scrolls]'))
      .slice(0, 3).map((one) => one.outerHTML.slice(0, 120))"""
    return list(page.evaluate(script))


def assert_sound(page: Page) -> None:
    """Axe is content, nothing is cut off at the side, and every control can be hit."""
    wide = overflow(page)
    cut = [f"{wide} px wider than its window: {sticking_out(page)}"] if wide > 0 else []
    problems = [*axe_problems(page), *cut, *small_targets(page)]
    if problems:
        raise AssertionError("\n".join([f"{page.url} at {page.viewport_size}:", *problems]))


def assert_sound_by_day_and_night(page: Page) -> None:
    """The same page sound on a laptop by light and on a phone by dark; put back afterwards."""
    for (width, height), scheme in ((PHONE, "dark"), (LAPTOP, "light")):
        page.set_viewport_size({"width": width, "height": height})
        page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
        assert_sound(page)


def tab_to(page: Page, wanted: Locator, most: int = 80) -> None:
    """Reach a control with the Tab key alone."""
    for _ in range(most):
        if wanted.evaluate("(one) => one === document.activeElement"):
            return
        page.keyboard.press("Tab")
    message = f"{most} presses of Tab do not reach {wanted}."
    raise AssertionError(message)


def press(page: Page, wanted: Locator) -> None:
    """Reach a link or button by Tab and press Enter on it."""
    tab_to(page, wanted)
    page.keyboard.press("Enter")


def write(page: Page, wanted: Locator, text: str) -> None:
    """Reach a field by Tab and type over what it holds."""
    tab_to(page, wanted)
    page.keyboard.press("Control+a")
    page.keyboard.type(text)
