"""The site's settings cut down to what the floor view needs: session, CSRF, person."""

from casebank.settings import *  # noqa: F403

ROOT_URLCONF = "bench.floor"
MIDDLEWARE = [
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
]
INSTALLED_APPS = [name for name in INSTALLED_APPS if not name.startswith("allauth")]  # noqa: F405
AUTHENTICATION_BACKENDS = ["django.contrib.auth.backends.ModelBackend"]
