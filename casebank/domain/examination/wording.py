"""A resolution as plain data, in the shape that the ``resolve`` command and the API promise."""

from __future__ import annotations

from typing import Any

from casebank.domain.examination.model import Catalogue
from casebank.domain.examination.resolution import Resolution, ResolvedRequest


def as_json(resolution: Resolution, catalogue: Catalogue) -> dict[str, Any]:
    """``step technique confidence alternatives not_understood`` and what goes beyond them.

    ``technique`` holds what was said or inherited, ``full_technique`` the same completed by the
    step's defaults; ``further`` the second and later requests of one sentence.
    """
    requests = [_request(one, catalogue) for one in resolution.requests]
    first = requests[0] if requests else {"step": None, "technique": {}, "confidence": 0.0}
    data: dict[str, Any] = {
        **first,
        "alternatives": [_request(one, catalogue) for one in resolution.alternatives],
        "not_understood": list(resolution.not_understood),
        "status": resolution.status.value,
    }
    if requests[1:]:
        data["further"] = requests[1:]
    return data


def _request(request: ResolvedRequest, catalogue: Catalogue) -> dict[str, Any]:
    return {
        "step": request.step,
        "technique": dict(request.technique),
        "full_technique": catalogue.steps[request.step].full_technique(request.technique),
        "confidence": request.confidence,
    }
