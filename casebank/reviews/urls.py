"""Addresses of the reviewers' pages."""

from __future__ import annotations

from django.urls import path

from casebank.reviews.views import pages

app_name = "reviews"
urlpatterns = [
    path("", pages.queue, name="queue"),
    path("<uuid:pk>/", pages.reading, name="reading"),
    path("<uuid:pk>/comments/", pages.comment, name="comment"),
    path("<uuid:pk>/moves/", pages.move, name="move"),
]
