"""The cases app."""

from django.apps import AppConfig


class CasesConfig(AppConfig):
    """Authored cases, their versions, and the catalogue releases they refer to."""

    name = "casebank.cases"
    label = "cases"
