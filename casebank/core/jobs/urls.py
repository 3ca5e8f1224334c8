"""Where a person follows a job."""

from django.urls import path

from casebank.core.jobs import views

app_name = "jobs"
urlpatterns = [
    path("<uuid:job_id>/", views.show, name="show"),
    path("<uuid:job_id>/cancel/", views.cancel, name="cancel"),
]
