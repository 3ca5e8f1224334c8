"""A rehearsal's result as its page shows it: sentences, rows of tables, and charts."""

from __future__ import annotations

from typing import Any

from casebank.core.charts.bars import Bar, BarChart, bar_chart
from casebank.domain.rehearsal import KINDS
from casebank.rehearsals.sentences import REASON_WORDS, differential_words, unreached_words

SIMULATED = (
    "These are simulated learners, not students: invented behaviour, the same each time. They show "
    "where a case is weak; they do not say how students will do."
)
DOMAINS = ("coverage", "technique", "order", "interpretation", "reasoning", "economy", "safety")
Result = dict[str, Any]


def page_of(result: Result) -> dict[str, Any]:
    """The context of the result's page; every list in the order it is read in."""
    return {
        "kinds": result["kinds"],
        "careful": result["careful"],
        "totals": totals_chart(result),
        "domains": domain_rows(result),
        "differential": result["differential"],
        "told_apart": differential_words(result["differential"]),
        "supported": supported_rows(result),
        "evidence_first": [result["differential"]["evidence_first"][kind.slug] for kind in KINDS],
        "unreached": [(one, unreached_words(one)) for one in result["unreached"]],
        "missed_by_all": [one for one in result["essentials"] if one["is_missed_by_all"]],
        "essentials": essential_rows(result),
        "reasons": reason_rows(result),
        "often": [
            {**one, "words": REASON_WORDS[one["reason"]].partition(":")[0]}
            for one in result["often_charged"]
        ],
    }


def totals_chart(result: Result) -> BarChart:
    """The mean total of each kind with its lowest and highest, and the careful examiner's."""
    bars = [
        Bar(
            label=kind["label"],
            value=kind["total"]["mean"],
            low=kind["total"]["low"],
            high=kind["total"]["high"],
            note=f"{kind['learners']} learners; mean, lowest to highest",
        )
        for kind in result["kinds"]
    ]
    careful = Bar("Careful examiner", result["careful"]["total"], note="one, by the scheme")
    return bar_chart(
        [*bars, careful],
        slug="totals",
        title="Mean mark of each kind, with its lowest and highest",
        measure="Mark of 100",
        bounds=(0, 100),
        decimals=0,
    )


def domain_rows(result: Result) -> list[tuple[str, list[float | None]]]:
    """Each domain with the mean of every kind, then the careful examiner's."""
    groups = [*(kind["domains"] for kind in result["kinds"]), result["careful"]["domains"]]
    return [(name.capitalize(), [group[name] for group in groups]) for name in DOMAINS]


def supported_rows(result: Result) -> list[dict[str, Any]]:
    """Each diagnosis in percent: prior, by kind, careful; by what the careful one saw."""
    rows = sorted(result["differential"]["rows"], key=lambda row: -row["careful"])
    return [
        {
            "label": row["label"],
            "is_true": row["is_true"],
            "shares": [
                100 * share
                for share in (
                    row["prior"],
                    *(row["kinds"][kind.slug] for kind in KINDS),
                    row["careful"],
                )
            ],
        }
        for row in rows
    ]


def essential_rows(result: Result) -> list[dict[str, Any]]:
    """Each essential with the percent of every kind that did it."""
    return [
        {**one, "shares": [100 * one["shares"][kind.slug] for kind in KINDS]}
        for one in result["essentials"]
    ]


def reason_rows(result: Result) -> list[dict[str, Any]]:
    """Each charge reason with requests a learner by kind, and the surcharge a learner."""
    return [
        {
            "words": REASON_WORDS[one["reason"]],
            "per_learner": [one["per_learner"][kind.slug] for kind in KINDS],
            "learners": one["learners"],
            "surcharge": one["surcharge"] / result["learners"],
        }
        for one in result["reasons"]
    ]
