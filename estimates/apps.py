from django.apps import AppConfig


class EstimatesConfig(AppConfig):
    name = "estimates"
    default_auto_field = "django.db.models.BigAutoField"
