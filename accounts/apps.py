"""The accounts app."""

from django.apps import AppConfig


class AccountsConfig(AppConfig):
    """People, roles and cohorts."""

    name = "accounts"
