"""The encounters app."""

from django.apps import AppConfig


class EncountersConfig(AppConfig):
    """A student at a bed: the log and what it adds up to."""

    name = "casebank.encounters"
    label = "encounters"
