"""Addresses of the examination catalogue in the API."""

from __future__ import annotations

from django.urls import path

from casebank.cases.catalogue_api import StepsView, StepView

urlpatterns = [
    path("examination/steps", StepsView.as_view(), name="steps"),
    path("examination/steps/<slug:slug>", StepView.as_view(), name="step"),
]
