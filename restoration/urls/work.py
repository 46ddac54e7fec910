"""The yard board, and the work on each replacement."""

from django.urls import path

from restoration.views import work, yard_board

paths = [
    path("yard-board/", yard_board.yard_board, name="yard_board"),
    path("yard-board/finished/", yard_board.yard_board_finished, name="yard_board_finished"),
    path("replacements/<int:spec_id>/stages/", work.work, name="work"),
    path("replacements/<int:spec_id>/stages/record/", work.work_record, name="work_record"),
    path("replacements/<int:spec_id>/stages/reach/", yard_board.work_reach, name="work_reach"),
    path(
        "replacements/<int:spec_id>/stages/take-back/",
        yard_board.work_take_back,
        name="work_take_back",
    ),
    path("replacements/<int:spec_id>/stages/plan/", work.work_plan, name="work_plan"),
    path("replacements/<int:spec_id>/stages/waits/new/", work.work_wait_new, name="work_wait_new"),
    path("work-waits/<int:pk>/over/", work.work_wait_over, name="work_wait_over"),
    path("work-hours/<int:pk>/take-back/", work.work_hours_take_back, name="work_hours_take_back"),
]
