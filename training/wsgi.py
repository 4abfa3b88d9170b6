"""The WSGI entry point: ``gunicorn training.wsgi``."""

import os

from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "training.settings")

application = get_wsgi_application()
