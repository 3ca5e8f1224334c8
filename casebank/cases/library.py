"""Compiled cases and catalogues, kept per process: published versions never change.

A door for reading only; nothing here decides who may see what.
"""

from __future__ import annotations

import logging
from functools import lru_cache
from uuid import UUID

from django.db import DatabaseError, connections

from casebank.cases.models import CaseVersion, CatalogueRelease
from casebank.core.fixtures import load_word_table
from casebank.domain.casefile.compile import CompiledCase, compile_case
from casebank.domain.casefile.schema import CaseDocument
from casebank.domain.encounter.model import Request
from casebank.domain.examination.catalogue import parse_catalogue
from casebank.domain.examination.model import Catalogue
from casebank.domain.examination.resolution import Earlier, Resolution, Suggestion
from casebank.domain.examination.resolve import Resolver

logger = logging.getLogger(__name__)


@lru_cache(maxsize=4)
def catalogue_of(release_id: int) -> Catalogue:
    """The catalogue of a stored release."""
    texts = CatalogueRelease.objects.values_list("texts", flat=True).get(pk=release_id)
    return parse_catalogue(texts)


def current_release() -> CatalogueRelease:
    """The newest release; CatalogueRelease.DoesNotExist before ``load_catalogue`` has run."""
    return CatalogueRelease.objects.latest("pk")


@lru_cache(maxsize=256)
def compiled_version(version_id: UUID) -> CompiledCase:
    """A fixed (approved, published or retired) version, ready to be examined.

    Raises CaseVersion.DoesNotExist for a version that may still change.
    """
    row = CaseVersion.objects.exclude(catalogue=None).values_list("document", "catalogue_id")
    document, release_id = row.get(pk=version_id, approved_at__isnull=False)
    return compile_case(CaseDocument.model_validate(document), catalogue_of(release_id))


class Reader:
    """A resolver that remembers: words are read back while they are typed, then read again.

    Reading is pure, so remembering changes nothing but time.
    """

    def __init__(self, catalogue: Catalogue) -> None:
        self._resolver = Resolver(catalogue, load_word_table())
        self._remembered = lru_cache(maxsize=8192)(self._resolve)

    def resolve(self, text: str, previous: Earlier | None = None) -> Resolution:
        """How the text is read after that request."""
        if previous is None or not self._resolver.leans(text):
            return self._remembered(text, "", ())
        return self._remembered(text, previous.step, tuple(sorted(previous.technique.items())))

    def _resolve(self, text: str, step: str, said: tuple[tuple[str, str], ...]) -> Resolution:
        earlier = Request(step, dict(said)) if step else None
        return self._resolver.resolve(text, previous=earlier)

    def suggest(self, prefix: str, limit: int = 8) -> tuple[Suggestion, ...]:
        """Ways to complete what is being typed."""
        return self._resolver.suggest(prefix, limit)


def resolver_for(catalogue: Catalogue) -> Reader:
    """The reader of free words for a catalogue; compiled once per process and release."""
    if catalogue.checksum not in _readers:
        _readers[catalogue.checksum] = Reader(catalogue)
    return _readers[catalogue.checksum]


_readers: dict[str, Reader] = {}


MISSPELT = "auscultaet"
"""A slip of the keyboard: reading it makes ready all that reading needs, spelling included."""


def warm_up() -> None:
    """Read and compile what the first request would otherwise wait for.

    Does nothing where the database is away or empty: then the first request says so.
    """
    try:
        resolver_for(catalogue_of(current_release().pk)).resolve(MISSPELT)
        for version_id in CaseVersion.objects.filter(state="published").values_list(
            "pk", flat=True
        ):
            compiled_version(version_id)
    except (DatabaseError, CatalogueRelease.DoesNotExist):
        logger.warning("nothing to read ahead yet")
    finally:
        connections.close_all()
