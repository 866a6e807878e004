"""The addresses of the app with those of the plain views beside them: /plain/jobs/, /plain/lot/8/."""

from django.urls import path

from tests.benchmarks import plain_jobs, plain_materials
from workshop.urls import urlpatterns as of_the_app

PLAIN = plain_jobs.PLAIN | plain_materials.PLAIN

urlpatterns = [
    *of_the_app,
    *(path(f"plain/{name}/", plain.view()) for name, plain in PLAIN.items()),
    *(path(f"plain/{name}/<int:pk>/", plain.view()) for name, plain in PLAIN.items()),
]
