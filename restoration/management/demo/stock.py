from datetime import date

from restoration import timber

from .read import lengths, mm, read


def load_stock() -> None:
    said = read("timber")
    woods = {wood.code: wood for wood in timber.woods()}
    sellers = {seller.name: seller for seller in timber.Supplier.objects.all()}
    for row in said["log"]:
        make_log(row, woods, sellers)
    for row in said["sawing"]:
        saw(row)
    for row in said["bought"]:
        buy(row, woods, sellers)
    for tag, ends in said["hearts"].items():
        place_heart(tag, ends)
    for tag, readings in said["moisture"].items():
        board = timber.Board.objects.get(tag=tag)
        for reading in readings:
            read_moisture(board, *reading)
    for row in said["climate"]:
        months = row.pop("months")
        timber.keep_climate(climate=timber.Climate(**row), months=months)
    for row in said["figure"]:
        set_figure(row, woods)


def read_moisture(board: timber.Board, day: str, percent: float, how: float | str) -> None:
    """`how` is the wood's temperature for a meter, or "oven" for a sample weighed and dried."""
    by_oven = how == "oven"
    timber.MoistureReading.objects.create(
        board=board,
        read_on=date.fromisoformat(day),
        percent=percent,
        method="oven" if by_oven else "meter",
        temperature_c=None if by_oven else how,
        depth_mm=None if by_oven else 25.4,
        instrument="" if by_oven else "pin meter",
        read_by="A. Wedderlie",
    )


def set_figure(row: dict, woods: dict) -> None:
    figure = timber.WoodFigure(
        species=woods[row.pop("wood")],
        entered_by="Ansgar Wedderlie",
        entered_on=date(2025, 4, 14),
        **row,
    )
    figure.full_clean()
    figure.save()


def make_log(row: dict, woods: dict, sellers: dict) -> None:
    sizes = lengths(row, "length", "sapwood")
    typed = sizes["as_typed"]
    for end in ("butt", "top"):
        sizes[f"{end}_diameter_mm"] = mm(row[end])
        typed[f"{end}_diameter_mm"] = row[end]
        if heart := row.get(f"{end}_heart"):
            sizes[f"{end}_heart_offset_mm"], sizes[f"{end}_heart_clock"] = mm(heart[0]), heart[1]
            typed[f"{end}_heart_offset_mm"] = heart[0]
    plain = (
        "tag felled_place felled_on felled_note received_on price transport grew_country "
        "grew_latitude grew_longitude protection_note protection_source place note"
    )
    log = timber.Log(
        species=woods[row["wood"]],
        supplier=sellers[row["supplier"]],
        **{name: row[name] for name in plain.split() if name in row},
        **sizes,
    )
    log.full_clean(exclude=["solid_mm3"])
    log.save()


def saw(row: dict) -> None:
    pieces = [piece(said) for said in row["piece"]]
    told = {"pieces": pieces, "sawn_on": row["on"], "sawn_by": row["by"]}
    told |= {"kerf_mm": mm(row["kerf"]), "note": row.get("note", ""), "cost": row.get("cost")}
    if log := timber.Log.objects.filter(tag=row["of"]).first():
        timber.saw_log(log=log, finishes_log=row.get("finishes", False), **told)
    else:
        timber.resaw_board(board=timber.Board.objects.get(tag=row["of"]), **told)


def piece(said: dict) -> timber.Piece:
    thickness, width, length = (mm(size) for size in said["size"])
    rest = {name: value for name, value in said.items() if name != "size"}
    return timber.Piece(thickness_mm=thickness, width_mm=width, length_mm=length, **rest)


def place_heart(tag: str, ends: dict) -> None:
    board = timber.Board.objects.get(tag=tag)
    typed = {
        f"{end}_heart_{way}_mm": text
        for end, place in ends.items()
        for way, text in zip(("across", "off"), place, strict=True)
    }
    for name, text in typed.items():
        setattr(board, name, -mm(text[1:]) if text.startswith("-") else mm(text))
    board.as_typed = {**board.as_typed, **typed}
    timber.correct_board(board=board, changed={*typed, "as_typed"})


def buy(row: dict, woods: dict, sellers: dict) -> None:
    thickness, width, length = (mm(size) for size in row.pop("size"))
    row["species"], row["supplier"] = woods[row.pop("wood")], sellers[row["supplier"]]
    board = timber.Board(thickness_mm=thickness, width_mm=width, length_mm=length, **row)
    board.full_clean()
    board.save()
