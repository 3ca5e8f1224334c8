"""The WSGI entry point that gunicorn loads."""

import os

from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "casebank.settings")

application = get_wsgi_application()

from casebank.cases.library import warm_up  # noqa: E402  models need the line above

# Before the server forks, so that all its processes share what was read.
warm_up()
