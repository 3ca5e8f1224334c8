"""Addresses of reviews in the API."""

from __future__ import annotations

from django.urls import path

from casebank.reviews.api import CommentsView, MovesView

urlpatterns = [
    path("cases/<uuid:case>/versions/<int:number>/moves", MovesView.as_view(), name="case-moves"),
    path(
        "cases/<uuid:case>/versions/<int:number>/comments",
        CommentsView.as_view(),
        name="case-comments",
    ),
]
