"""Addresses of cases in the API."""

from __future__ import annotations

from django.urls import path

from casebank.cases.api import CasesView, VersionView

urlpatterns = [
    path("cases", CasesView.as_view(), name="cases"),
    path("cases/<uuid:case>/versions/<int:number>", VersionView.as_view(), name="case-version"),
]
