from django.urls import path

from estimates.views import estimate, rates

app_name = "estimates"
urlpatterns = [
    path("estimates/", estimate.estimate_list, name="estimates"),
    path("jobs/<int:pk>/estimate/", estimate.estimate, name="estimate"),
    path("jobs/<int:pk>/estimate/fill/", estimate.fill, name="estimate_fill"),
    path("jobs/<int:pk>/estimate/terms/", estimate.terms, name="estimate_terms"),
    path("jobs/<int:pk>/estimate/lines/new/", estimate.line_new, name="estimate_line_new"),
    path("estimate-lines/<int:pk>/", estimate.line_edit, name="estimate_line"),
    path("estimate-lines/<int:pk>/remove/", estimate.line_remove, name="estimate_line_remove"),
    path("jobs/<int:pk>/estimate/summary.pdf", estimate.summary_pdf, name="summary_pdf"),
    path("estimates/rates/", rates.rates, name="rates"),
]
