"""How much of a perceived sign was named right: each expected feature counts by itself.

The rule, for one sign with expected features f = 1..F (each with its accepted values):

    score = (c_1 + ... + c_F) / F,   0 <= score <= 1

where c_f, for the values stated of feature f, is

    best of the stated values' worth / (1 + number of stated values worth nothing)

and one stated value is worth 1 if it is an accepted value, a narrower kind of one (*mid-systolic*
where *systolic* is expected), or, in a graded feature, within its tolerance (a murmur within one
grade); 1/2 if it is a broader kind of an accepted value (*murmur* where *ejection systolic murmur*
is expected); else 0. What was not stated is worth 0. Of several signs stated, the one that fits
best counts; names that fit another finding of the same sound do not count as wrong.

So naming everything is no way to score, adding a right feature never lowers a score, and the order
of what is said does not matter. The halves and the tolerance of one grade are common practice, no
source.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from casebank.domain.casefile.checks.signs import accepted
from casebank.domain.examination.vocabulary import SIGN, Vocabulary

Features = Mapping[str, Sequence[str]]
Expected = Mapping[str, str]
RIGHT, BROADER, WRONG = 1.0, 0.5, 0.0


@dataclass(frozen=True)
class Naming:
    """How a reading fits one finding: the credit of each expected feature, and what was stated."""

    credits: Mapping[str, float]
    stated: Features

    @property
    def score(self) -> float:
        """The mean credit, 0 to 1."""
        return sum(self.credits.values()) / len(self.credits) if self.credits else 0.0


def naming_of(
    expects: Expected,
    stated: Sequence[Features],
    vocabulary: Vocabulary,
    others: Iterable[Expected] = (),
) -> Naming:
    """How well the statements name what ``expects`` asks for.

    Parameters
    ----------
    expects : mapping of feature to accepted values, parted by ``|``
    stated : sequence of mappings of feature to values
        One for each sign that was named.
    others : iterable of mappings
        What other findings of the same sound or picture expect; their names are not wrong here.
    """
    wrong = _wrong_names(expects, stated, vocabulary, tuple(others))
    fitted = [
        Naming({f: _credit(f, v, one, wrong, vocabulary) for f, v in expects.items()}, one)
        for one in stated
    ]
    nothing = Naming(dict.fromkeys(expects, WRONG), {})
    return max(fitted, key=lambda naming: naming.score, default=nothing)


def worth(feature: str, value: str, expected: str, vocabulary: Vocabulary) -> float:
    """What one stated value is worth against one accepted value."""
    if vocabulary.is_kind_of(feature, value, expected):
        return RIGHT
    if vocabulary.is_near(feature, value, expected):
        return RIGHT
    return BROADER if vocabulary.is_kind_of(feature, expected, value) else WRONG


def _best_worth(feature: str, value: str, expected: str, vocabulary: Vocabulary) -> float:
    return max(worth(feature, value, one, vocabulary) for one in accepted(expected))


def _credit(
    feature: str, expected: str, said: Features, wrong_names: int, vocabulary: Vocabulary
) -> float:
    worths = [_best_worth(feature, v, expected, vocabulary) for v in set(said.get(feature, ()))]
    wrong = wrong_names if feature == SIGN else worths.count(WRONG)
    return max(worths, default=WRONG) / (1 + wrong)


def _wrong_names(
    expects: Expected,
    stated: Sequence[Features],
    vocabulary: Vocabulary,
    others: tuple[Expected, ...],
) -> int:
    """How many different names were given that fit neither this finding nor its companions."""
    wanted = [one[SIGN] for one in (expects, *others) if SIGN in one]
    names = {name for one in stated for name in one.get(SIGN, ())}
    return sum(
        all(_best_worth(SIGN, name, one, vocabulary) == WRONG for one in wanted) for name in names
    )
