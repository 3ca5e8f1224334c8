"""The site's numbers in Prometheus text, read from the database at each scrape; no person in it."""

from __future__ import annotations

from collections.abc import Iterator

from django.db.models import Count
from django.utils import timezone
from prometheus_client import CollectorRegistry, generate_latest
from prometheus_client.core import GaugeMetricFamily
from prometheus_client.registry import Collector

from casebank.core.health.readiness import oldest_waiting
from casebank.core.health.signs import last_signs
from casebank.core.models import Job


class SiteCollector(Collector):
    """Counts jobs and ages heartbeats; right whatever the number of processes."""

    def collect(self) -> Iterator[GaugeMetricFamily]:
        """One family at a time."""
        yield _jobs()
        yield _heartbeats()
        yield _oldest_waiting()


def metrics_text() -> bytes:
    """What a scrape of ``/metrics`` reads."""
    registry = CollectorRegistry(auto_describe=False)
    registry.register(SiteCollector())
    return generate_latest(registry)


def _jobs() -> GaugeMetricFamily:
    family = GaugeMetricFamily("casebank_jobs", "Jobs by kind and state.", labels=["kind", "state"])
    counted = Job.objects.values_list("kind", "state").annotate(n=Count("pk")).order_by()
    for kind, state, number in counted:
        family.add_metric([kind, state], number)
    return family


def _heartbeats() -> GaugeMetricFamily:
    family = GaugeMetricFamily(
        "casebank_heartbeat_age_seconds", "Seconds since a part last showed life.", labels=["part"]
    )
    now = timezone.now()
    for name, at in last_signs().items():
        family.add_metric([name], (now - at).total_seconds())
    return family


def _oldest_waiting() -> GaugeMetricFamily:
    since = oldest_waiting()
    seconds = (timezone.now() - since).total_seconds() if since else 0.0
    return GaugeMetricFamily(
        "casebank_oldest_waiting_job_seconds", "Age of the oldest waiting job.", value=seconds
    )
