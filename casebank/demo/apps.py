"""The demo app."""

from django.apps import AppConfig


class DemoConfig(AppConfig):
    """Invented people, cases and an invented year."""

    name = "casebank.demo"
    label = "demo"
