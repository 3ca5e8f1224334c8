"""The API of the examination catalogue: steps by system, region and words, and one step."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any, cast

from django.http import Http404
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework import serializers as s
from rest_framework.pagination import PageNumberPagination
from rest_framework.permissions import BasePermission, IsAuthenticated
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from accounts.models import User
from casebank.cases.catalogue_search import steps_matching
from casebank.cases.errors import NoCatalogue
from casebank.cases.policies import may_read_catalogue
from casebank.cases.queries import newest_catalogue
from casebank.cases.step_words import cost_of, in_words
from casebank.core.api.problems import ProblemError
from casebank.domain.examination.model import Catalogue, Step


class CatalogueReader(BasePermission):
    """People who examine, write or review; the same rule as the pages'."""

    message = "Your role does not read the catalogue. Ask a coordinator for one that does."

    def has_permission(self, request: Request, view: APIView) -> bool:
        """Whether the caller may read the catalogue."""
        return bool(may_read_catalogue(cast("User", request.user)))


class PartShape(s.Serializer[Any]):
    """A step by name."""

    slug = s.SlugField()
    label = s.CharField()  # type: ignore[assignment]  # a field called label


class CostShape(s.Serializer[Any]):
    """Minutes + 2 x discomfort (0-3) + resource units make the price."""

    minutes = s.FloatField()
    discomfort = s.IntegerField(min_value=0, max_value=3)
    resource = s.FloatField()
    price = s.FloatField()


class StepSummary(PartShape):
    """A step in a list; a composite costs what its parts cost together."""

    system = s.CharField()
    region = s.CharField()
    method = s.CharField()
    cost = CostShape()
    looks_for = s.CharField()


class StepPage(s.Serializer[Any]):
    """One page of steps."""

    count = s.IntegerField()
    next = s.URLField(allow_null=True)
    previous = s.URLField(allow_null=True)
    results = StepSummary(many=True)


class ValueShape(s.Serializer[Any]):
    """One value a technique slot takes."""

    value = s.SlugField()
    label = s.CharField()  # type: ignore[assignment]  # a field called label


class SlotShape(s.Serializer[Any]):
    """A technique slot; ``default`` is meant when nothing is said."""

    slot = s.CharField()
    default = s.SlugField()
    values = ValueShape(many=True)


class NormalShape(s.Serializer[Any]):
    """What is found in health; the first whose age (years, inclusive) and sex fit holds."""

    text = s.CharField()
    age_min = s.IntegerField()
    age_max = s.IntegerField()
    sex = s.CharField(allow_null=True)


class StepShape(StepSummary):
    """A step in full."""

    how = s.CharField()
    technique = SlotShape(many=True)
    needs = s.ListField(child=s.CharField())
    provides = s.CharField(allow_null=True)
    cautions = s.CharField(allow_blank=True)
    normal = NormalShape(many=True)
    synonyms = s.ListField(child=s.CharField())
    parts = PartShape(many=True)


class PagesOfSteps(PageNumberPagination):
    """Fifty at a time."""

    page_size = 50


class CatalogueView(APIView):
    """Base of the catalogue's views."""

    permission_classes = (IsAuthenticated, CatalogueReader)


class StepsView(CatalogueView):
    """All steps."""

    @extend_schema(
        operation_id="examination_steps_list",
        parameters=[
            OpenApiParameter("system", str, description="A system, as limb-neurology."),
            OpenApiParameter("region", str, description="A region, as whole-body."),
            OpenApiParameter("q", str, description="Beginnings of words of a step's name."),
            OpenApiParameter("page", int),
        ],
        responses=StepPage,
    )
    def get(self, request: Request) -> Response:
        """List steps by label, or by likeness to the words in ``q``; at most 60 are alike."""
        catalogue = _catalogue()
        asked = {name: request.query_params.get(name, "") for name in ("system", "region")}
        words = request.query_params.get("q", "").replace("\0", "")
        steps = steps_matching(catalogue, words=words, **asked)
        pages = PagesOfSteps()
        page: list[Step] = pages.paginate_queryset(cast("Any", steps), request, view=self) or []
        return pages.get_paginated_response([summary(step, catalogue) for step in page])


class StepView(CatalogueView):
    """One step."""

    @extend_schema(operation_id="examination_steps_retrieve", responses=StepShape)
    def get(self, request: Request, slug: str) -> Response:
        """Read a step in full."""
        catalogue = _catalogue()
        if slug not in catalogue.steps:
            raise Http404
        return Response(in_full(catalogue.steps[slug], catalogue))


def summary(step: Step, catalogue: Catalogue) -> dict[str, Any]:
    """The step as it stands in a list."""
    cost = asdict(cost_of(step, catalogue))
    del cost["discomfort_word"]
    return {
        "slug": step.slug,
        "label": step.label,
        "system": step.system,
        "region": step.region,
        "method": step.method.value,
        "cost": cost,
        "looks_for": step.looks_for,
    }


def in_full(step: Step, catalogue: Catalogue) -> dict[str, Any]:
    """The step in full."""
    return summary(step, catalogue) | {
        "how": step.how,
        "technique": [_slot(slot, catalogue) for slot in step.slots],
        "needs": sorted(need.value for need in step.needs),
        "provides": step.provides.value if step.provides else None,
        "cautions": step.cautions,
        "normal": [asdict(finding) for finding in step.normal],
        "synonyms": list(step.synonyms),
        "parts": [{"slug": p.slug, "label": p.label} for p in in_words(step, catalogue).parts],
    }


def _slot(slot: Any, catalogue: Catalogue) -> dict[str, Any]:
    values = [
        {"value": value, "label": catalogue.value(slot.slot, value).label} for value in slot.values
    ]
    return {"slot": slot.slot, "default": slot.default, "values": values}


def _catalogue() -> Catalogue:
    try:
        return newest_catalogue()
    except NoCatalogue as error:
        raise ProblemError(503, "no-catalogue", str(error)) from error
