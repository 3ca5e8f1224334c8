"""Addresses of the student's API."""

from django.urls import path

from casebank.encounters import api
from casebank.encounters.debriefing import api as debriefing_api

urlpatterns = [
    path("patients", api.Patients.as_view(), name="patients"),
    path("encounters", api.Encounters.as_view(), name="encounters"),
    path("encounters/<uuid:pk>", api.OneEncounter.as_view(), name="encounter"),
    path("encounters/<uuid:pk>/requests", api.Requests.as_view(), name="requests"),
    path("encounters/<uuid:pk>/differential", api.Differential.as_view(), name="differential"),
    path("encounters/<uuid:pk>/readings", api.Readings.as_view(), name="readings"),
    path("encounters/<uuid:pk>/conclusion", api.Conclusion.as_view(), name="conclusion"),
    path("encounters/<uuid:pk>/debrief", api.DebriefView.as_view(), name="debrief"),
    path("encounters/<uuid:pk>/comments", debriefing_api.Comments.as_view(), name="comments"),
    path(
        "encounters/<uuid:pk>/adjustments",
        debriefing_api.Adjustments.as_view(),
        name="adjustments",
    ),
]
