"""Two people who own jobs, and a stranger's view of them."""

from __future__ import annotations

import pytest

from accounts.models import User


@pytest.fixture
def owner(db: None) -> User:
    """A person with work to do."""
    return User.objects.create_user("owner@example.org", "long enough pass", name="An Owner")


@pytest.fixture
def stranger(db: None) -> User:
    """Somebody else."""
    return User.objects.create_user("stranger@example.org", "long enough pass", name="A Stranger")
