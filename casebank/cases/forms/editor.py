"""The shape every page of the editor has: forms shown from a raw document, typed text put back."""

from __future__ import annotations

from collections.abc import Mapping
from copy import deepcopy
from typing import Any, ClassVar

from django import forms
from django.forms.formsets import BaseFormSet, formset_factory

from casebank.cases.forms.raw import Raw
from casebank.domain.examination.model import Catalogue

MOST_ROWS = 400
Data = Mapping[str, Any] | None


class Page(forms.Form):
    """A form of single fields; ``shown`` reads the document, ``write`` changes it in place."""

    use_required_attribute = False

    def __init__(self, document: Raw, catalogue: Catalogue, data: Data = None) -> None:
        self.document, self.catalogue = document, catalogue
        super().__init__(data, initial=self.shown())

    def shown(self) -> Raw:
        """The document's values as the fields show them."""
        raise AttributeError(f"{type(self).__name__} must say what it shows")

    def write(self, document: Raw) -> None:
        """Put what was typed into the document."""
        raise AttributeError(f"{type(self).__name__} must say what it writes")


class Row(forms.Form):
    """One row of a list; subclasses show a raw row and give it back."""

    use_required_attribute = False

    def __init__(self, *args: Any, document: Raw, catalogue: Catalogue, **more: Any) -> None:
        self.document, self.catalogue = document, catalogue
        super().__init__(*args, **more)
        self.prepare()

    def prepare(self) -> None:
        """Offer choices that depend on the document."""

    @classmethod
    def shown(cls, row: Raw, catalogue: Catalogue) -> Raw:
        """The raw row as the fields show it."""
        raise AttributeError(f"{cls.__name__} must say what it shows")

    def row(self) -> Raw:
        """The raw row that was typed."""
        raise AttributeError(f"{type(self).__name__} must say what it gives")

    def typed(self, name: str) -> Any:
        """What was typed into the field; nothing for a row left alone."""
        empty: Any = [] if isinstance(self.fields[name], forms.MultipleChoiceField) else ""
        return self.cleaned_data.get(name, empty)

    @property
    def is_standing(self) -> bool:
        """Whether the row stood in the document before, or holds something new."""
        return not self.empty_permitted or self.has_changed()


def _name_management(form: Row) -> None:
    if "DELETE" in form.fields:
        form.fields["DELETE"].label = "Remove this"
    if "ORDER" in form.fields:
        form.fields["ORDER"].label = "Place"
        form.fields["ORDER"].widget.attrs.update({"min": 1})


def kept(rows: BaseFormSet[Row]) -> list[Row]:
    """The rows that stand, without removed ones, in the order that was asked for."""
    standing = [
        form for form in rows.forms
        if form.is_standing and not form.cleaned_data.get("DELETE")
    ]  # fmt: skip
    if not rows.can_order:
        return standing
    places = {id(form): position for position, form in enumerate(rows.forms, 1)}
    return sorted(standing, key=lambda form: _place(form, places[id(form)]))


def _place(form: Row, stood: int) -> tuple[int, int, int]:
    """Where a row goes: before the row whose place it takes when moved up, after when down."""
    wanted = form.cleaned_data.get("ORDER") or stood
    return wanted, (wanted > stood) - (wanted < stood), stood


class Editor:
    """One page of the editor: a Page and row sets over one raw document.

    ``add`` is the prefix of the list that shows a blank row; ``place`` that of the finding shown.
    """

    template: ClassVar[str]

    def __init__(
        self,
        document: Raw,
        catalogue: Catalogue,
        data: Data = None,
        *,
        add: str = "",
        place: int = 0,
    ) -> None:
        self.document, self.catalogue, self.data = document, catalogue, data
        self.add, self.place = add, place
        self.build()

    def build(self) -> None:
        """Make the forms."""
        raise AttributeError(f"{type(self).__name__} must build its forms")

    def parts(self) -> list[Any]:
        """Every form and formset of the page."""
        raise AttributeError(f"{type(self).__name__} must list its parts")

    def write(self, document: Raw) -> None:
        """Put what was typed into the document, in place."""
        raise AttributeError(f"{type(self).__name__} must write")

    def row_set(
        self,
        form: type[Row],
        prefix: str,
        standing: list[Raw],
        *,
        ordered: bool = False,
        over: Raw | None = None,
    ) -> BaseFormSet[Row]:
        """A formset over this page's document, or over the part of it that its rows look at."""
        factory = formset_factory(
            form,
            extra=int(prefix == self.add or not standing),
            can_delete=True,
            can_delete_extra=False,
            can_order=ordered,
            absolute_max=MOST_ROWS,
            max_num=MOST_ROWS,
        )
        looked_at = self.document if over is None else over
        rows = factory(
            self.data,
            prefix=prefix,
            initial=[form.shown(row, self.catalogue) for row in standing],
            form_kwargs={"document": looked_at, "catalogue": self.catalogue},
        )
        for one in rows.forms:
            _name_management(one)
        return rows

    def is_readable(self) -> bool:
        """Whether the post came from this page; False only when its hidden counts are damaged."""
        return all(part.is_valid() for part in self.parts())

    def written(self) -> Raw:
        """A new document with what was typed."""
        document = deepcopy(self.document)
        self.write(document)
        return document
