"""The audit app."""

from django.apps import AppConfig


class AuditConfig(AppConfig):
    """Append-only record of what people did."""

    name = "casebank.audit"
    label = "audit"
