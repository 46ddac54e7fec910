"""The part of a board's page that says how it dries: for boards in stick."""

from timber_stock.drawings.drying_plot import drying_plot_svg
from timber_stock.forms.drying import DryingForm
from timber_stock.models import Board, service_moistures
from timber_stock.models.board import State
from timber_stock.models.drying import air_of, daily, forecast_of, said_of_last

ASKED = {"wanted", "wanted_for", "at"}


def drying_context(board: Board, counted, wood, asked) -> dict:
    """Empty unless the board lies in stick; `asked` is what the address asks for, if anything."""
    if board.state != State.IN_STICK:
        return {}
    form = DryingForm(asked if asked and ASKED & set(asked) else None, service=service_moistures())
    air = air_of(form.climate())
    drawn = {"drying_form": form, "air": air, "wanted": form.wanted_percent()}
    try:
        forecast = forecast_of(board, counted, wood, air, drawn["wanted"])
    except ValueError as error:
        return {**drawn, "no_forecast": str(error)}
    return {
        **drawn,
        "forecast": forecast,
        "said_of_last": said_of_last(daily(counted), forecast),
        "wrong_days": {reading.on for reading in forecast.wrong_way},
        "drying_plot": drying_plot_svg(daily(counted), forecast),
    }
