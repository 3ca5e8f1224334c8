"""Everything that changes a case: its catalogue, its drafts, its way to students."""

from casebank.cases.actions.catalogue import load_catalogue
from casebank.cases.actions.drafts import create_case, save_draft, start_new_version
from casebank.cases.actions.moves import move

__all__ = ["create_case", "load_catalogue", "move", "save_draft", "start_new_version"]
