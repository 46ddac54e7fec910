"""An independent judge of layouts: plain arithmetic on corners, no geometry library.

It shares no line with the search nor with the program's own judge of moves. It looks at points
every few millimetres along the outlines, and at distances between all pairs of sides.
"""

import cmath
import math
from bisect import bisect_right

SLACK_MM = 0.06
STEP_MM = 4.0


def judge(request, places):
    """Raises AssertionError, saying of which piece, for whatever is not allowed."""
    wanted = {piece.key: piece for piece in request.pieces}
    assert len({place.key for place in places}) == len(places), "a piece is laid twice"
    laid = [(wanted[place.key], place, ring_of(wanted[place.key], place)) for place in places]
    for piece, place, ring in laid:
        judge_lie(piece, place)
        assert piece.sided_mm <= request.sheet.thickness_mm + SLACK_MM, piece.key
        judge_on_face(request.sheet, piece, ring)
        judge_defects(request.sheet, piece, ring)
    for n, (one, _, its) in enumerate(laid):
        for other, _, others in laid[n + 1 :]:
            assert apart(its, others) >= request.gap_mm - SLACK_MM, f"{one.key} at {other.key}"


def ring_of(piece, place):
    turn = cmath.rect(1.0, math.radians(place.angle_deg))
    found = []
    for x, y in piece.outline_mm:
        spot = complex(x, -y if place.mirrored else y) * turn
        found.append((spot.real + place.x_mm, spot.imag + place.y_mm))
    return found


def judge_lie(piece, place):
    off = math.degrees(math.asin(min(1.0, abs(math.sin(math.radians(place.angle_deg))))))
    assert off <= piece.turn_deg + 0.02, f"{piece.key} lies {off} off the grain"
    if piece.hand != "either":
        assert place.mirrored == (piece.hand == "mirrored"), f"{piece.key} is the wrong way up"


def judge_on_face(sheet, piece, ring):
    right_sap = 0 if piece.sapwood_allowed else sheet.sapwood_right_mm
    left_sap = 0 if piece.sapwood_allowed else sheet.sapwood_left_mm
    for x, y in along(ring):
        assert sheet.butt_check_mm - SLACK_MM <= x, f"{piece.key} in the butt check"
        assert x <= sheet.length_mm - sheet.top_check_mm + SLACK_MM, f"{piece.key} in the top check"
        (right, right_lean), (left, left_lean) = edges_at(sheet, x)
        assert y >= -right + right_sap - SLACK_MM * right_lean, piece.key
        assert y <= left - left_sap + SLACK_MM * left_lean, piece.key
    for station in sheet.stations:  # an edge that comes in between two points looked at
        for y in (-station.right_mm + right_sap + 1, station.left_mm - left_sap - 1):
            if -station.right_mm + right_sap < y < station.left_mm - left_sap:
                continue
            assert not inside((station.x_mm, y), ring), piece.key


def edges_at(sheet, x):
    """How far each edge is from the line, and by how much a slack square to it grows across."""
    places = [station.x_mm for station in sheet.stations]
    n = min(max(bisect_right(places, x), 1), len(places) - 1)
    before, after = sheet.stations[n - 1], sheet.stations[n]
    run = after.x_mm - before.x_mm
    share = min(max((x - before.x_mm) / run, 0.0), 1.0)
    found = []
    for near, far in ((before.right_mm, after.right_mm), (before.left_mm, after.left_mm)):
        found.append((near + share * (far - near), math.hypot(1.0, (far - near) / run)))
    return found


def judge_defects(sheet, piece, ring):
    for defect in sheet.defects:
        far = apart(ring, list(defect.points_mm))
        assert far >= defect.clearance_mm - SLACK_MM, f"{piece.key} at the {defect.kind}: {far}"


def apart(one, other):
    """How far two rings are from each other; below nought by how far one reaches into the other."""
    deepest = min(
        [0.0]
        + [-nearest(point, other) for point in along(one) if inside(point, other)]
        + [-nearest(point, one) for point in along(other) if inside(point, one)]
    )
    if deepest < -SLACK_MM:
        return deepest
    return min(min(nearest(p, other) for p in one), min(nearest(p, one) for p in other))


def along(ring):
    for (x0, y0), (x1, y1) in zip(ring, ring[1:] + ring[:1], strict=True):
        steps = max(1, math.ceil(math.hypot(x1 - x0, y1 - y0) / STEP_MM))
        for n in range(steps):
            yield x0 + (x1 - x0) * n / steps, y0 + (y1 - y0) * n / steps


def inside(point, ring):
    x, y = point
    crossings = 0
    for (x0, y0), (x1, y1) in zip(ring, ring[1:] + ring[:1], strict=True):
        if (y0 > y) != (y1 > y) and x < x0 + (y - y0) / (y1 - y0) * (x1 - x0):
            crossings += 1
    return crossings % 2 == 1


def nearest(point, ring):
    return min(
        to_side(point, start, end) for start, end in zip(ring, ring[1:] + ring[:1], strict=True)
    )


def to_side(point, start, end):
    side, spot = complex(*end) - complex(*start), complex(*point) - complex(*start)
    share = (spot * side.conjugate()).real / abs(side) ** 2 if side else 0.0
    return abs(spot - side * min(1.0, max(0.0, share)))
