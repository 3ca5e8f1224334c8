"""The fixed cast: an author, another author, a reviewer, a tutor, a student, a coordinator, …"""

from __future__ import annotations

from dataclasses import dataclass, fields

from accounts.models import Role, RoleGrant, User
from accounts.permissions import ROLES

PASSWORD = "a long enough pass phrase"


def seed_roles() -> None:
    """Store the shipped roles unless they stand already."""
    for role in ROLES:
        Role.objects.get_or_create(
            slug=role.slug, defaults={"name": role.name, "description": role.description}
        )


def person(name: str, *roles: str, password: str | None = None) -> User:
    """A person with these roles; without a password (hashing one is slow) unless asked for."""
    seed_roles()
    email = f"{name.lower().replace(' ', '.')}@example.org"
    user = User.objects.create_user(email, password, name=name)
    RoleGrant.objects.bulk_create(RoleGrant(user=user, role_id=role) for role in roles)
    return user


@dataclass(frozen=True)
class Cast:
    """The people tests are about."""

    author: User
    other_author: User
    reviewer: User
    author_and_reviewer: User
    tutor: User
    student: User
    coordinator: User
    stranger: User

    def everyone(self) -> list[User]:
        """All of them."""
        return [getattr(self, field.name) for field in fields(self)]


def cast() -> Cast:
    """The whole cast, stored."""
    return Cast(
        author=person("Ada Author", "author"),
        other_author=person("Olu Author", "author"),
        reviewer=person("Rea Reviewer", "reviewer"),
        author_and_reviewer=person("Ari Both", "author", "reviewer"),
        tutor=person("Tam Tutor", "tutor"),
        student=person("Sol Student", "student"),
        coordinator=person("Cor Coordinator", "coordinator"),
        stranger=person("Sam Stranger"),
    )
