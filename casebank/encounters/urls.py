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
    path("at/<uuid:pk>/steps", views.steps, name="steps"),
    path("at/<uuid:pk>/steps/<slug:slug>", views.step, name="step"),
    path("media/<str:token>.<slug:ending>", views.media, name="media"),
    path("deciding/<str:token>.<slug:ending>", views.deciding, name="deciding"),
    path(
        "at/<uuid:pk>/entries/<int:seq>/findings/<int:index>/reading",
        views.reading,
        name="reading",
    ),
    path("at/<uuid:pk>/differential", views.differential, name="differential"),
    path("at/<uuid:pk>/conclude", views.conclude, name="conclude"),
    path("at/<uuid:pk>/debrief", views.debrief, name="debrief"),
    path("at/<uuid:pk>/debrief.pdf", views.debrief_pdf, name="debrief-pdf"),
    path("at/<uuid:pk>/comments", views.comment, name="comment"),
    path("at/<uuid:pk>/adjustments", views.adjust, name="adjust"),
    path("concluded/", views.concluded, name="concluded"),
    path("progress/", views.progress, name="progress"),
    path("progress/record.json", views.record_json, name="record-json"),
    path("progress/record.csv", views.record_csv, name="record-csv"),
]
