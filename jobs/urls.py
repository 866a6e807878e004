from django.urls import path

from jobs.views import clients, giving, hours, job, lead_times, needs, room_page, room_sheets, rooms, stages

app_name = "jobs"
urlpatterns = [
    path("jobs/", job.job_list, name="jobs"),
    path("jobs/new/", job.job_new, name="job_new"),
    path("jobs/<int:pk>/", job.job_page, name="job"),
    path("jobs/<int:pk>/edit/", job.job_edit, name="job_edit"),
    path("jobs/<int:pk>/rooms/new/", rooms.room_new, name="room_new"),
    path("jobs/<int:pk>/stages/", stages.stage_names, name="stages"),
    path("jobs/<int:pk>/stages/new/", stages.stage_new, name="stage_new"),
    path("stages/<int:pk>/remove/", stages.stage_remove, name="stage_remove"),
    path("rooms/<int:pk>/", room_page.room_page, name="room"),
    path("rooms/<int:pk>/edit/", rooms.room_edit, name="room_edit"),
    path("rooms/<int:pk>/remove/", rooms.room_remove, name="room_remove"),
    path("rooms/<int:pk>/plan/", stages.room_plan, name="room_plan"),
    path("rooms/<int:pk>/plan/copy/", stages.plan_copy, name="plan_copy"),
    path("rooms/<int:pk>/needs/new/", needs.need_new, name="need_new"),
    path("rooms/<int:pk>/hours/", hours.room_hours, name="hours"),
    path("room-stages/<int:pk>/", room_page.room_stage, name="room_stage"),
    path("needs/<int:pk>/", needs.need_edit, name="need"),
    path("needs/<int:pk>/remove/", needs.need_remove, name="need_remove"),
    path("hours/<int:pk>/", hours.hours_edit, name="hours_edit"),
    path("hours/<int:pk>/remove/", hours.hours_remove, name="hours_remove"),
    path("buying/", lead_times.lead_times_page, name="lead_times"),
    path("jobs/<int:pk>/sheets/", giving.giving_page, name="giving"),
    path("jobs/<int:pk>/suggestion/", giving.give_suggested, name="give_suggested"),
    path("jobs/<int:pk>/pull-list/", giving.pull_list, name="pull_list"),
    path("rooms/<int:pk>/sheets/", room_sheets.room_sheets, name="room_sheets"),
    path("rooms/<int:pk>/give/", giving.give, name="give"),
    path("rooms/<int:pk>/take-back/", room_sheets.take_back, name="take_back"),
    path("rooms/<int:pk>/lots/", room_sheets.lot_share, name="lot_share"),
    path("clients/", clients.client_list, name="clients"),
    path("clients/new/", clients.client_new, name="client_new"),
    path("clients/<int:pk>/", clients.client_edit, name="client"),
]
