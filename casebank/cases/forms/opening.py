"""The editor's first page: the patient and what is known at the bed's end."""

from __future__ import annotations

from casebank.cases.forms.editor import Editor, Page
from casebank.cases.forms.fields import Figure, Pick, Typed, offer
from casebank.cases.forms.raw import Raw, filled, lines, new_slug, number, part, shown, words

SEXES = (("", "Choose"), ("female", "Female"), ("male", "Male"))
PLAIN = ("title", "slug", "opening")
OF_PATIENT = ("name", "age", "sex", "occupation")


class OpeningForm(Page):
    """Title, patient, opening and cautions."""

    title = Typed(
        "Title",
        help_text="What the student is told before beginning. Never name or hint at the diagnosis.",
    )
    slug = Typed(
        "Short name", optional=True,
        help_text="For addresses: lower-case words with hyphens, just as neutral as the title. "
        "Left empty, it is made of the title.",
    )  # fmt: skip
    name = Typed("Patient’s name", help_text="A fictional person.")
    age = Figure("Age", help_text="Years.")
    sex = Pick("Sex", choices=SEXES)
    occupation = Typed("Occupation")
    opening = Typed(
        "Opening", tall=6, help_text="What is known and seen at the bed’s end, before any step."
    )
    cautions = Typed(
        "Cautions", tall=2, optional=True, help_text="Shown with the case. One a line."
    )

    def shown(self) -> Raw:
        patient = part(self.document, "patient")
        return {
            **{name: shown(self.document.get(name)) for name in PLAIN},
            **{name: shown(patient.get(name)) for name in OF_PATIENT},
            "cautions": "\n".join(words(self.document, "cautions")),
        }

    def write(self, document: Raw) -> None:
        typed = self.cleaned_data
        patient = filled(**{name: typed[name] for name in OF_PATIENT if name != "age"})
        patient |= filled(age=number(typed["age"]))
        slug = typed["slug"] or (new_slug(typed["title"], (), "case") if typed["title"] else "")
        given = filled(
            title=typed["title"], slug=slug, opening=typed["opening"],
            patient=patient, cautions=lines(typed["cautions"]),
        )  # fmt: skip
        for name in ("title", "slug", "opening", "patient", "cautions"):
            document.pop(name, None)
        document.update(given)


class OpeningEditor(Editor):
    """Patient and opening."""

    template = "cases/edit_opening.html"

    def build(self) -> None:
        self.form = OpeningForm(self.document, self.catalogue, self.data)
        offer(self.form.fields["sex"], SEXES, [self.form.initial["sex"]])

    def parts(self) -> list[OpeningForm]:
        return [self.form]

    def write(self, document: Raw) -> None:
        self.form.write(document)
