"""Home, one's own tokens, and the coordinator's pages on people and cohorts."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any, cast

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from accounts import actions
from accounts.forms import CohortForm, MemberForm, PersonForm, RolesForm, TokenForm
from accounts.models import ApiToken, Cohort, User
from accounts.navigation import links_for
from accounts.permissions import BY_SLUG
from accounts.policies import may_manage_people
from casebank.core.http.refusal import refusal

View = Callable[..., HttpResponse]


@require_GET
def home(request: HttpRequest) -> HttpResponse:
    """What one's roles can do here; for strangers, what this is."""
    if not request.user.is_authenticated:
        return render(request, "accounts/welcome.html")
    user = _person(request)
    roles = [BY_SLUG[slug] for slug in sorted(user.role_slugs) if slug in BY_SLUG]
    return render(request, "accounts/home.html", {"roles": roles, "places": links_for(request)})


def _person(request: HttpRequest) -> User:
    return cast("User", request.user)


def managing(view: View) -> View:
    """Coordinators only."""

    @wraps(view)
    @login_required
    def checked(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        if not may_manage_people(_person(request)):
            raise refusal("Only a coordinator manages people and cohorts.", kwargs)
        return view(request, *args, **kwargs)

    return cast("View", checked)


@require_GET
@managing
def people(request: HttpRequest) -> HttpResponse:
    """Everybody, by name, and the cohorts."""
    found = User.objects.prefetch_related("roles").order_by("name", "pk")
    if words := request.GET.get("q", "").strip():
        found = found.filter(name__icontains=words) | found.filter(email__icontains=words)
    page = Paginator(found, 50).get_page(request.GET.get("page"))
    cohorts = Cohort.objects.order_by("name")
    context = {"page": page, "cohorts": cohorts, "q": words}
    return render(request, "accounts/people.html", context)


@require_http_methods(["GET", "POST"])
@managing
def new_person(request: HttpRequest) -> HttpResponse:
    """Make an account."""
    form = PersonForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        data = form.cleaned_data
        user = actions.create_person(
            email=data["email"], name=data["name"], password=data["password"], by=_person(request)
        )
        actions.set_roles(user=user, roles=frozenset(data["roles"]), by=_person(request))
        messages.success(request, f"{user.name} can sign in now.")
        return redirect("accounts:people")
    return _form(request, form, "New person", "Make the account")


@require_http_methods(["GET", "POST"])
@managing
def person_page(request: HttpRequest, pk: int) -> HttpResponse:
    """A person's roles, and whether they may sign in."""
    user = get_object_or_404(User, pk=pk)
    start = {"roles": sorted(user.role_slugs), "active": user.is_active}
    form = RolesForm(request.POST or None, initial=start)
    if request.method == "POST" and form.is_valid():
        roles = frozenset(form.cleaned_data["roles"])
        if user.pk == _person(request).pk and "coordinator" not in roles:
            form.add_error("roles", "You cannot take the coordinator's role from yourself.")
        else:
            actions.set_roles(user=user, roles=roles, by=_person(request))
            actions.set_active(user=user, active=form.cleaned_data["active"], by=_person(request))
            messages.success(request, f"The roles of {user.name} are saved.")
            return redirect("accounts:people")
    return _form(request, form, user.name, "Save")


@require_http_methods(["GET", "POST"])
@managing
def new_cohort(request: HttpRequest) -> HttpResponse:
    """Make a cohort."""
    form = CohortForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        cohort = actions.create_cohort(
            slug=form.cleaned_data["slug"], name=form.cleaned_data["name"], by=_person(request)
        )
        return redirect("accounts:cohort", slug=cohort.slug)
    return _form(request, form, "New cohort", "Make the cohort")


@require_http_methods(["GET", "POST"])
@managing
def cohort_page(request: HttpRequest, slug: str) -> HttpResponse:
    """Who belongs to a cohort; putting somebody in."""
    cohort = get_object_or_404(Cohort, slug=slug)
    form = MemberForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        actions.join_cohort(
            cohort=cohort,
            user=form.cleaned_data["user"],
            role=form.cleaned_data["role"],
            by=_person(request),
        )
        return redirect("accounts:cohort", slug=slug)
    members = cohort.membership_set.select_related("user", "role").order_by("role_id", "user__name")
    context = {"cohort": cohort, "members": members, "form": form}
    return render(request, "accounts/cohort.html", context, status=_status(request))


@require_POST
@managing
def leave(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """Take a person out of a cohort."""
    cohort, user = get_object_or_404(Cohort, slug=slug), get_object_or_404(User, pk=pk)
    actions.leave_cohort(cohort=cohort, user=user, by=_person(request))
    return redirect("accounts:cohort", slug=slug)


@require_http_methods(["GET", "POST"])
@login_required
def tokens(request: HttpRequest) -> HttpResponse:
    """One's own API tokens; a new one is shown once."""
    form, token = TokenForm(request.POST or None), ""
    if request.method == "POST" and form.is_valid():
        token = actions.make_token(user=_person(request), name=form.cleaned_data["name"])
        form = TokenForm()
    mine = ApiToken.objects.filter(user=_person(request), revoked_at=None).order_by("-pk")
    return render(request, "accounts/tokens.html", {"form": form, "token": token, "tokens": mine})


@require_POST
@login_required
def revoke(request: HttpRequest, pk: int) -> HttpResponse:
    """End one of one's own tokens."""
    token = get_object_or_404(ApiToken, pk=pk, user=_person(request))
    actions.revoke_token(token=token, by=_person(request))
    return redirect("accounts:tokens")


def _form(request: HttpRequest, form: Any, title: str, action: str) -> HttpResponse:
    context = {"form": form, "title": title, "action": action}
    return render(request, "accounts/form.html", context, status=_status(request))


def _status(request: HttpRequest) -> int:
    return 422 if request.method == "POST" else 200
