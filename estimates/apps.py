from django.apps import AppConfig


class EstimatesConfig(AppConfig):
    name = "estimates"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        """Let the rules register their verbs and what they tell the apps below."""
        from estimates import estimate, filling, operation_rates  # noqa: F401
