"""What may go wrong when a case is written, said in sentences for the person who did it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from casebank.cases.models import CaseVersion
from casebank.domain.casefile.problems import Problem


class Refused(Exception):  # noqa: N818  a refusal is an answer, not a fault
    """The person may not do this, or not now; the message says why."""


class StaleEdit(Exception):  # noqa: N818
    """Someone saved meanwhile; ``current`` is what stands now, ``yours`` what was to be saved."""

    def __init__(self, current: CaseVersion, yours: dict[str, Any] | None) -> None:
        super().__init__(
            "This version was changed after you opened it. Look at what changed, then save again."
        )
        self.current = current
        self.yours = yours


class NotFit(Exception):  # noqa: N818
    """The case check finds errors; ``problems`` lists all of them."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        many = len(self.problems)
        things = "one error" if many == 1 else f"{many} errors"
        super().__init__(f"The case check finds {things}. Correct what it lists, then try again.")


class UnreadableDocument(Exception):  # noqa: N818
    """The document cannot be kept even as a draft; ``problems`` lists every place."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__("The document cannot be kept as it is. Correct what is listed.")


class NoCatalogue(Exception):  # noqa: N818
    """No catalogue release is stored yet."""

    def __init__(self) -> None:
        super().__init__("No catalogue is loaded. Run: manage.py load_catalogue")
