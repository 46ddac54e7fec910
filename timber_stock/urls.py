from django.urls import path

from timber_stock.views import (
    bench,
    boards,
    climates,
    compare,
    log_photographs,
    log_sheets,
    logs,
    moisture,
    sawing,
    stock,
    suppliers,
    tools,
    woods,
)

app_name = "timber_stock"

urlpatterns = [
    path("", stock.stock, name="stock"),
    path("suppliers/", suppliers.suppliers, name="suppliers"),
    path("suppliers/new/", suppliers.supplier_new, name="supplier_new"),
    path("suppliers/<int:pk>/edit/", suppliers.supplier_edit, name="supplier_edit"),
    path("logs/", logs.logs, name="logs"),
    path("logs/new/", logs.log_new, name="log_new"),
    path("logs/<int:pk>/", logs.log, name="log"),
    path("logs/<int:pk>/edit/", logs.log_edit, name="log_edit"),
    path("logs/<int:pk>/saw/", sawing.log_saw, name="log_saw"),
    path("boards/", boards.boards, name="boards"),
    path("boards/new/", boards.board_new, name="board_new"),
    path("boards/<int:pk>/", boards.board, name="board"),
    path("boards/<int:pk>/edit/", boards.board_edit, name="board_edit"),
    path("boards/<int:pk>/resaw/", sawing.board_resaw, name="board_resaw"),
    path("boards/<int:board_id>/moisture/", moisture.moisture_new, name="moisture_new"),
    # The log sheet
    path("logs/<int:pk>/sheet/", log_sheets.log_sheet, name="log_sheet"),
    path("logs/<int:pk>/measure/", log_sheets.log_measure, name="log_measure"),
    path("logs/<int:log_id>/defects/new/", log_sheets.log_defect_new, name="log_defect_new"),
    path("defects/<int:pk>/delete/", log_sheets.log_defect_delete, name="log_defect_delete"),
    path(
        "logs/<int:log_id>/photographs/new/",
        log_photographs.log_photograph_new,
        name="log_photograph_new",
    ),
    path("log-photographs/<int:pk>/", log_photographs.log_photograph, name="log_photograph"),
    path(
        "log-photographs/<int:pk>/delete/",
        log_photographs.log_photograph_delete,
        name="log_photograph_delete",
    ),
    path(
        "log-photographs/<int:pk>/<str:size>/",
        log_photographs.log_photograph_file,
        name="log_photograph_file",
    ),
    # Woods and what they do
    path("woods/", woods.woods, name="woods"),
    path("woods/new/", woods.wood_new, name="wood_new"),
    path("woods/<int:pk>/", woods.wood, name="wood"),
    path("woods/<int:pk>/edit/", woods.wood_edit, name="wood_edit"),
    path("woods/<int:pk>/figures/<slug:kind>/", woods.figure_set, name="figure_set"),
    path("woods/<int:pk>/figures/<slug:kind>/clear/", woods.figure_clear, name="figure_clear"),
    path("climates/", climates.climates, name="climates"),
    path("climates/new/", climates.climate_new, name="climate_new"),
    path("climates/<int:pk>/edit/", climates.climate_edit, name="climate_edit"),
    path("in-service/<slug:place>/", climates.service_set, name="service_set"),
    path("in-service/<slug:place>/clear/", climates.service_clear, name="service_clear"),
    path("moisture/", tools.moisture_tools, name="moisture_tools"),
    path("shrinkage/", tools.shrinkage_tools, name="shrinkage_tools"),
    path("lift/", tools.lift_tools, name="lift_tools"),
    # What a section will do
    path("bench/", bench.bench, name="bench"),
    path("bench/compare/", compare.compare, name="compare"),
]
