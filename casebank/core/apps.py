"""The core app: jobs, heartbeats, health, and the commands that run a site."""

from django.apps import AppConfig


class CoreConfig(AppConfig):
    """Technical shelf below every slice."""

    name = "casebank.core"
    label = "core"
    verbose_name = "Casebank core"

    def ready(self) -> None:
        """Make our Celery app the one that shared tasks belong to."""
        from casebank import celery  # noqa: F401
