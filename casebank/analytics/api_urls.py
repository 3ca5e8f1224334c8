"""Addresses of cohort reports in the API."""

from django.urls import path

from casebank.analytics import api

urlpatterns = [
    path("cohorts", api.Cohorts.as_view(), name="cohorts"),
    path("cohorts/<slug:slug>/reports", api.Reports.as_view(), name="cohort-reports"),
    path("reports/<uuid:pk>", api.OneReport.as_view(), name="report"),
]
