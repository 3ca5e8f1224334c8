"""The invented people of the demo: nobody here exists."""

from __future__ import annotations

from dataclasses import dataclass

PASSWORD = "walk-the-ward-42"  # noqa: S105  printed for everybody who tries the demo
COHORT = ("fourth-year-lower-marsh", "Fourth year, Lower Marsh")
SMALL_COHORT = ("evening-group", "Evening group")
STUDENTS = 60
FIRST_NAMES = (
    "Orsola", "Tamsin", "Ilvar", "Bexa", "Corwin", "Dilys", "Ephra", "Fenn", "Gwillim", "Hestia",
    "Isolde", "Jorun", "Keziah", "Lorcan", "Merrin", "Nolwen", "Oswin", "Petronel", "Quill", "Rhos",
)  # fmt: skip
LAST_NAMES = ("Ashgrove", "Brackwater", "Coldstone", "Dunmere", "Elmhythe", "Fallowfield",
              "Garrowby", "Hollinshaw", "Inkpen")  # fmt: skip


@dataclass(frozen=True)
class DemoPerson:
    """One sign-in of the demo."""

    email: str
    name: str
    roles: tuple[str, ...]
    cohorts: tuple[tuple[str, str], ...] = ()


STAFF = (
    DemoPerson("author@demo.example", "Maud Thistlewood", ("author",)),
    DemoPerson("reviewer@demo.example", "Anselm Quarry", ("reviewer",)),
    DemoPerson(
        "tutor@demo.example", "Petra Lindqvale", ("tutor",),
        ((COHORT[0], "tutor"), (SMALL_COHORT[0], "tutor")),
    ),
    DemoPerson("coordinator@demo.example", "Idris Vellacott", ("coordinator",)),
    DemoPerson(
        "student@demo.example", "Wren Abernook", ("student",), ((SMALL_COHORT[0], "student"),)
    ),
)  # fmt: skip


def students() -> list[DemoPerson]:
    """The sixty students of the invented year."""
    return [
        DemoPerson(
            email=f"student{number:02d}@demo.example",
            name=f"{FIRST_NAMES[number % 20]} {LAST_NAMES[number % 9]}",
            roles=("student",),
            cohorts=((COHORT[0], "student"),),
        )
        for number in range(STUDENTS)
    ]
