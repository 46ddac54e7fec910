"""Requests made by chance, in the shape of real cutting lists; used by several tests."""

from hypothesis import strategies as st

INCH = 25.4
SIZES_IN = [(2, 6), (2, 8), (3, 4), (3, 6), (4, 4), (4, 6), (4, 8), (6, 6)]
RINGS = [
    None,
    {"mean_min_deg": 60, "worst_min_deg": 45},
    {"mean_min_deg": 60, "worst_min_deg": 30},
    {"mean_max_deg": 35},
    {"mean_max_deg": 40, "worst_max_deg": 75},
    {"worst_min_deg": 20, "worst_max_deg": 80},
]


@st.composite
def logs(draw):
    length = draw(st.integers(9, 18)) * 12 * INCH
    breadth = draw(st.integers(14, 30)) * INCH
    oval = draw(st.floats(0.9, 1.1))
    taper = draw(st.floats(0.72, 1.05))  # now and then thicker at the top
    away = st.floats(-0.1, 0.1)
    places = [[round(draw(away) * breadth, 3) for _ in range(2)] for _ in range(2)]
    knots = draw(st.lists(st.tuples(st.floats(0.05, 0.95), st.integers(0, 359)), max_size=2))
    rotten = draw(st.lists(st.tuples(*[st.floats(-0.3, 0.3)] * 2), max_size=1))
    return {
        "length_mm": round(length, 1),
        "butt_diameter_mm": [round(breadth, 2), round(breadth * oval, 2)],
        "top_diameter_mm": [round(breadth * taper, 2), round(breadth * taper * oval, 2)],
        "butt_pith_mm": places[0],
        "top_pith_mm": places[1],
        "sapwood_mm": draw(st.sampled_from([0.0, 12.7, 25.4])),
        "knots": [
            {"from_butt_mm": round(share * length, 1), "clock_deg": clock, "half_angle_deg": 7.5}
            for share, clock in knots
        ],
        "rot": [
            {"x_mm": x * breadth, "y_mm": y * breadth, "radius_mm": 35.0}
            | {"from_mm": 0.0, "to_mm": length * 0.3}
            for x, y in rotten
        ],
    }


@st.composite
def requests(draw):
    log = draw(logs())
    shares = st.sampled_from([1.0, 0.66, 0.5, 0.4, 0.3])
    wanted = []
    for line in range(draw(st.integers(1, 8))):
        thick, wide = draw(st.sampled_from(SIZES_IN))
        wanted.append(
            {
                "id": f"T{line + 1}",
                "thickness_mm": thick * INCH,
                "width_mm": wide * INCH,
                "length_mm": round(log["length_mm"] * draw(shares) - 12.7, 1),
                "quantity": draw(st.integers(1, 6)),
                "worth": draw(st.integers(60, 200)) / 100,
                "heart_clearance_mm": draw(st.sampled_from([None, 12.7, 25.4, 50.8])),
                "rings": draw(st.sampled_from(RINGS)),
                "sapwood_allowed": draw(st.booleans()),
                "knot_free": draw(st.sampled_from([[], [[0, 1]], [[0, 0.4]]])),
            }
        )
    kerf = draw(st.sampled_from([2.286, 3.175, 6.0]))
    return {"log": log, "saw": {"kerf_mm": kerf, "crosscut_kerf_mm": 6.35}, "wanted": wanted}
