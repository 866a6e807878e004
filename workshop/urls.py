from django.urls import include, path

urlpatterns = [
    path("", include("workshop.front.urls")),
    path("", include("jobs.urls")),
    path("", include("materials.urls")),
    path("", include("estimates.urls")),
]

handler500 = "workshop.failures.server_error"
