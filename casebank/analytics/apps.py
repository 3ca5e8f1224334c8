"""The analytics app."""

from django.apps import AppConfig


class AnalyticsConfig(AppConfig):
    """Cohort reports compiled from the log."""

    name = "casebank.analytics"
    label = "analytics"
