"""Where machines ask how the site is."""

from django.urls import path

from casebank.core.health import views

urlpatterns = [
    path("livez", views.livez, name="livez"),
    path("readyz", views.readyz, name="readyz"),
    path("metrics", views.metrics, name="metrics"),
]
