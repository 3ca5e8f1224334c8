"""A browser as far as the tests need one: signed in, and sending pages back as they came."""

from __future__ import annotations

from html.parser import HTMLParser
from typing import Any

from django.test import Client


def signed_in(user: Any) -> Client:
    """A browser of this person."""
    client = Client()
    client.force_login(user)
    return client


class Fields(HTMLParser):
    """The fields of a page as a browser would send them back."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.sent: dict[str, Any] = {}
        self._name = self._select = ""
        self.feed(html)

    def handle_starttag(self, tag, attrs):
        have = dict(attrs)
        name, kind = have.get("name") or "", have.get("type") or ""
        if tag == "input" and name:
            if kind in ("checkbox", "radio"):
                if "checked" in have:
                    self.sent.setdefault(name, []).append(have.get("value") or "on")
            elif kind != "file":
                self.sent[name] = have.get("value") or ""
        elif tag == "textarea":
            self._name = name
            self.sent[name] = ""
        elif tag == "select":
            self._select = name
            self.sent.setdefault(name, "")
        elif tag == "option" and self._select and "selected" in have:
            self.sent[self._select] = have.get("value") or ""

    def handle_data(self, data):
        if self._name:
            self.sent[self._name] += data

    def handle_endtag(self, tag):
        if tag == "textarea":
            self.sent[self._name] = self.sent[self._name].removeprefix("\n")
            self._name = ""
        elif tag == "select":
            self._select = ""
