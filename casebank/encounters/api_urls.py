"""Addresses of the student's API."""

from django.urls import path

from casebank.encounters import api

urlpatterns = [
    path("patients", api.Patients.as_view(), name="patients"),
    path("encounters", api.Encounters.as_view(), name="encounters"),
    path("encounters/<uuid:pk>", api.OneEncounter.as_view(), name="encounter"),
    path("encounters/<uuid:pk>/requests", api.Requests.as_view(), name="requests"),
    path("encounters/<uuid:pk>/differential", api.Differential.as_view(), name="differential"),
    path("encounters/<uuid:pk>/conclusion", api.Conclusion.as_view(), name="conclusion"),
    path("encounters/<uuid:pk>/debrief", api.DebriefView.as_view(), name="debrief"),
]
