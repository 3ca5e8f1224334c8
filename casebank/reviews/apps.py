"""The reviews app."""

from django.apps import AppConfig


class ReviewsConfig(AppConfig):
    """Reading of a case by another person."""

    name = "casebank.reviews"
    label = "reviews"
