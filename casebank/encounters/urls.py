"""Addresses of patients and encounters."""

from django.urls import path

from casebank.encounters import views

app_name = "encounters"
urlpatterns = [
    path("", views.patients, name="patients"),
    path("suggest/steps", views.suggest_steps, name="suggest-steps"),
    path("suggest/diagnoses", views.suggest_diagnosis, name="suggest-diagnoses"),
    path("<uuid:version>/begin", views.begin, name="begin"),
    path("at/<uuid:pk>/", views.sheet, name="sheet"),
    path("at/<uuid:pk>/ask", views.ask, name="ask"),
    path("at/<uuid:pk>/read-back", views.read_back, name="read-back"),
    path("at/<uuid:pk>/differential", views.differential, name="differential"),
    path("at/<uuid:pk>/conclude", views.conclude, name="conclude"),
    path("at/<uuid:pk>/debrief", views.debrief, name="debrief"),
]
