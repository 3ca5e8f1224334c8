"""The rehearsals app."""

from django.apps import AppConfig


class RehearsalsConfig(AppConfig):
    """Simulated learners run an author's case before anyone sits it."""

    name = "casebank.rehearsals"
    label = "rehearsals"
