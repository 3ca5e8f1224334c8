"""Addresses of the examination catalogue."""

from __future__ import annotations

from django.urls import path

from casebank.cases.views import catalogue

app_name = "catalogue"
urlpatterns = [
    path("", catalogue.index, name="index"),
    path("system/<slug:slug>/", catalogue.system, name="system"),
    path("region/<slug:slug>/", catalogue.region, name="region"),
    path("<slug:slug>/", catalogue.step, name="step"),
]
