"""Addresses of people, cohorts and one's own tokens."""

from django.urls import path

from accounts import views

app_name = "accounts"
urlpatterns = [
    path("", views.people, name="people"),
    path("new", views.new_person, name="new-person"),
    path("<int:pk>", views.person_page, name="person"),
    path("cohorts/new", views.new_cohort, name="new-cohort"),
    path("cohorts/<slug:slug>", views.cohort_page, name="cohort"),
    path("cohorts/<slug:slug>/leave/<int:pk>", views.leave, name="leave"),
    path("me/tokens", views.tokens, name="tokens"),
    path("me/tokens/<int:pk>/revoke", views.revoke, name="revoke-token"),
]
