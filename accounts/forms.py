"""What a coordinator fills in about people and cohorts."""

from __future__ import annotations

from typing import Any

from django import forms
from django.contrib.auth.password_validation import validate_password

from accounts.models import Cohort, User
from accounts.permissions import ROLES

ROLE_CHOICES = [(role.slug, f"{role.name}: {role.description}") for role in ROLES]


class PersonForm(forms.Form):
    """A new account."""

    name = forms.CharField(max_length=120)
    email = forms.EmailField(label="E-mail address", max_length=254)
    password = forms.CharField(
        label="First password",
        help_text="At least 10 characters. The person can change it.",
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
        validators=[validate_password],
    )
    roles = forms.MultipleChoiceField(
        choices=ROLE_CHOICES, widget=forms.CheckboxSelectMultiple, required=False
    )

    def clean_email(self) -> str:
        """One account an address."""
        email = str(self.cleaned_data["email"]).lower()
        if User.objects.filter(email=email).exists():
            raise forms.ValidationError("Somebody has this address already. Open their page.")
        return email


class RolesForm(forms.Form):
    """The roles of a person."""

    roles = forms.MultipleChoiceField(
        choices=ROLE_CHOICES, widget=forms.CheckboxSelectMultiple, required=False
    )
    active = forms.BooleanField(label="May sign in", required=False)


class CohortForm(forms.Form):
    """A new cohort."""

    name = forms.CharField(max_length=120)
    slug = forms.SlugField(
        label="Short name", help_text="Letters, digits and hyphens; it stands in addresses."
    )

    def clean_slug(self) -> str:
        """One cohort a short name."""
        slug = str(self.cleaned_data["slug"])
        if Cohort.objects.filter(slug=slug).exists():
            raise forms.ValidationError("A cohort with this short name exists. Choose another.")
        return slug


class MemberForm(forms.Form):
    """A person to put into a cohort."""

    email = forms.EmailField(label="E-mail address of the person")
    role = forms.ChoiceField(choices=[("student", "Student"), ("tutor", "Tutor")])

    def clean(self) -> dict[str, Any]:
        """The person must exist and hold the role."""
        data = dict(super().clean() or {})
        user = User.objects.filter(email=str(data.get("email", "")).lower()).first()
        if data.get("email") and user is None:
            self.add_error("email", "Nobody has this address. Make the account first.")
        elif user is not None and data.get("role") not in user.role_slugs:
            self.add_error("role", f"{user.name} does not hold this role. Give it first.")
        data["user"] = user
        return data


class TokenForm(forms.Form):
    """A new API token."""

    name = forms.CharField(max_length=80, help_text="Where you will use it.")
