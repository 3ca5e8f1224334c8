"""What tests need of the page of a sign: the controls a browser would send back."""

from __future__ import annotations

import json
from html.parser import HTMLParser

PAGE = "/cases/signs/"


class Controls(HTMLParser):
    """Collects what the form that posts would send, were its main button pressed."""

    def __init__(self) -> None:
        super().__init__()
        self.sent: dict[str, list[str]] = {}
        self.inside = False
        self.select = self.area = ""

    def handle_starttag(self, tag, attrs):
        of = dict(attrs)
        if tag == "form":
            self.inside = "hx-post" in of
        if not self.inside:
            return
        name = of.get("name", "")
        if tag == "input" and (of.get("type") != "checkbox" or "checked" in of):
            self.sent.setdefault(name, []).append(of.get("value", ""))
        elif tag == "select":
            self.select = name
        elif tag == "option" and "selected" in of:
            self.sent[self.select] = [of.get("value", "")]
        elif tag == "textarea":
            self.area = name
            self.sent[name] = [""]

    def handle_endtag(self, tag):
        self.area = "" if tag == "textarea" else self.area

    def handle_data(self, data):
        if self.area:
            self.sent[self.area][0] += data


def sent_by(answer) -> dict[str, list[str]]:
    """The controls of this page with what they hold; lines end as browsers send them."""
    reader = Controls()
    reader.feed(answer.content.decode())
    first = {
        name: [one.removeprefix("\n") for one in values] for name, values in reader.sent.items()
    }
    return {name: [one.replace("\n", "\r\n") for one in values] for name, values in first.items()}


def form_of(client, spec, **technique) -> dict[str, list[str]]:
    """The controls of the page that shows this specification."""
    return sent_by(client.post(PAGE, {"spec": json.dumps(spec), **technique}))


def pressed(client, controls, do="", **changes):
    """The answer to these controls with changes, and a button's value."""
    given = {**controls, **{f"of-{name}".replace("__", "-"): v for name, v in changes.items()}}
    return client.post(PAGE, {**given, "do": do} if do else given)


def spec_in(answer):
    """The specification that the page shows as JSON."""
    return json.loads(answer.context["form"]["spec"].value())
