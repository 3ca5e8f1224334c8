"""Addresses of cohort reports."""

from django.urls import path

from casebank.analytics import views

app_name = "analytics"
urlpatterns = [
    path("", views.reports, name="reports"),
    path("<slug:slug>/ask", views.ask, name="ask"),
    path("reports/<uuid:pk>", views.report, name="report"),
    path("reports/<uuid:pk>.csv", views.report_csv, name="report-csv"),
]
