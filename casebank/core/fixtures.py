"""Reads the catalogue and the cases that ship with the product from ``fixtures``; needs no Django.

Owns opening the files. What they mean is the domain's: ``examination.catalogue``, ``casefile``.
"""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from casebank.domain.examination.catalogue import parse_catalogue
from casebank.domain.examination.model import Catalogue
from casebank.domain.examination.resolve import Resolver
from casebank.domain.examination.wordweights import WordTable, table_of

FIXTURES = Path(__file__).resolve().parents[2] / "fixtures"
WORD_WEIGHTS = FIXTURES / "word-weights.npz"


def catalogue_texts() -> dict[str, str]:
    """File name to TOML text of every catalogue file, in order of name."""
    return _texts("catalogue", "*.toml")


def case_texts() -> dict[str, str]:
    """File name to JSON text of every shipped case, in order of name."""
    return _texts("cases", "*.json")


def sign_texts() -> dict[str, str]:
    """File name to JSON text of every example of a sign with a technique to look for it."""
    return _texts("signs", "*.json")


@lru_cache(maxsize=1)
def load_catalogue() -> Catalogue:
    """The shipped catalogue, read once a process. Raises CatalogueError listing every problem."""
    return parse_catalogue(catalogue_texts())


@lru_cache(maxsize=1)
def load_word_table() -> WordTable:
    """What words say for steps, read once a process."""
    return table_of(WORD_WEIGHTS.read_bytes())


@lru_cache(maxsize=1)
def load_resolver() -> Resolver:
    """The resolver of the shipped catalogue, compiled once a process."""
    return Resolver(load_catalogue(), load_word_table())


def _texts(folder: str, pattern: str) -> dict[str, str]:
    paths = sorted((FIXTURES / folder).glob(pattern))
    return {path.name: path.read_text(encoding="utf-8") for path in paths}
