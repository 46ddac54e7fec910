from django.urls import path

from timber_stock.views import boards, logs, moisture, sawing, stock, suppliers

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
]
