"""Addresses of the authors' pages."""

from __future__ import annotations

from django.urls import path

from casebank.cases.views import document, editor, findings, mine, signs, version

app_name = "cases"
urlpatterns = [
    path("", mine.mine, name="mine"),
    path("new/", mine.new, name="new"),
    path("from-document/", mine.upload, name="upload"),
    path("signs/", signs.signs, name="signs"),
    path("signs/<str:token>/drawing.svg", signs.drawing, name="sign-drawing"),
    path("signs/<str:token>/sound.<str:ending>", signs.sound, name="sign-sound"),
    path("<uuid:pk>/new-version/", version.start_version, name="start-version"),
    path("versions/<uuid:pk>/", version.version, name="version"),
    path("versions/<uuid:pk>/moves/", version.move, name="move"),
    path("versions/<uuid:pk>/preview/", version.preview, name="preview"),
    path("versions/<uuid:pk>/document/", document.document, name="document"),
    path("versions/<uuid:pk>/document.json", version.download, name="download"),
    path("versions/<uuid:pk>/findings/new/", findings.new_finding, name="new-finding"),
    path("versions/<uuid:pk>/findings/<int:place>/", findings.finding, name="finding"),
    path(
        "versions/<uuid:pk>/findings/<int:place>/remove/",
        findings.remove_finding,
        name="remove-finding",
    ),
    path("versions/<uuid:pk>/<slug:slug>/", editor.section, name="section"),
]
