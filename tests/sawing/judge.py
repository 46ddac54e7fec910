"""An independent judge of sawing plans: reads only the request and the plan as plain data.

It shares no code with the planner. Angles and clearances are found by dense sampling of points and
stations, outlines by exact corners, and sawing by trying every plane. Limits are allowed `HAIR`.
"""

import math

HAIR_MM = 1e-6
HAIR_DEG = 0.02  # of a mean found by summing points
STATIONS = 41


class Unlawful(Exception):
    pass


def judge(request, plan):
    """Raise Unlawful with the first fault; return the worth found."""
    asked = {w["id"]: w for w in request["wanted"]}
    log = request["log"]
    used, worth, end = {}, 0.0, None
    for bolt in sorted(plan["bolts"], key=lambda b: b["from_mm"]):
        need(bolt["from_mm"] >= -HAIR_MM, "a bolt starts before the butt")
        need(bolt["to_mm"] <= log["length_mm"] + HAIR_MM, "a bolt runs past the top")
        if end is not None:
            room = bolt["from_mm"] - end
            need(room >= request["saw"]["crosscut_kerf_mm"] - HAIR_MM, "bolts closer than a kerf")
        end = bolt["to_mm"]
        for timber in bolt["timbers"]:
            want = asked.get(timber["id"])
            need(want is not None, f"{timber['id']} was not asked for")
            used[want["id"]] = used.get(want["id"], 0) + 1
            judge_timber(log, bolt, timber, want)
            worth += want["worth"] * want["thickness_mm"] * want["width_mm"] * want["length_mm"]
        boxes = [box_of(t) for t in bolt["timbers"]]
        gaps = (request["saw"]["kerf_mm"],) * 2 + (request["saw"]["crosscut_kerf_mm"],)
        need(free_by_cuts(boxes, gaps), "the saw cannot free every timber")
    for name, count in used.items():
        need(count <= asked[name]["quantity"], f"more of {name} than were asked for")
    return worth


def need(kept, fault):
    if not kept:
        raise Unlawful(fault)


def box_of(t):
    return (
        (t["x_mm"], t["x_mm"] + t["size_x_mm"]),
        (t["y_mm"], t["y_mm"] + t["size_y_mm"]),
        (t["from_mm"], t["from_mm"] + t["length_mm"]),
    )


def between(pair0, pair1, share):
    return tuple(a + (b - a) * share for a, b in zip(pair0, pair1, strict=True))


def to_log(x, y, roll_deg):
    """From the saw's frame back to the log's: the log was rolled counter-clockwise."""
    back = math.radians(-roll_deg)
    turned = complex(x, y) * complex(math.cos(back), math.sin(back))
    return turned.real, turned.imag


def to_saw(x, y, roll_deg):
    return to_log(x, y, -roll_deg)


def judge_timber(log, bolt, timber, want):
    name = timber["id"]
    sizes = {"x": timber["size_x_mm"], "y": timber["size_y_mm"]}
    wide = timber["wide_face"]
    thin = "y" if wide == "x" else "x"
    need(abs(sizes[wide] - want["width_mm"]) < 1e-9, f"{name}: not the asked width")
    need(abs(sizes[thin] - want["thickness_mm"]) < 1e-9, f"{name}: not the asked thickness")
    need(abs(timber["length_mm"] - want["length_mm"]) < 1e-9, f"{name}: not the asked length")
    (x0, x1), (y0, y1), (z0, z1) = box_of(timber)
    need(z0 >= bolt["from_mm"] - HAIR_MM, f"{name}: starts before its bolt")
    need(z1 <= bolt["to_mm"] + HAIR_MM, f"{name}: runs past its bolt")
    corners = [(x, y) for x in (x0, x1) for y in (y0, y1)]
    inset = 0 if want["sapwood_allowed"] else log["sapwood_mm"]
    least = math.inf
    low_angle, high_angle, total = 90.0, 0.0, 0.0
    for k in range(STATIONS):
        z = z0 + (z1 - z0) * k / (STATIONS - 1)
        share = z / log["length_mm"]
        a, b = (
            d / 2 - inset for d in between(log["butt_diameter_mm"], log["top_diameter_mm"], share)
        )
        need(a > 0 and b > 0, f"{name}: no heartwood there")
        for corner in corners:
            X, Y = to_log(*corner, bolt["roll_deg"])
            need((X / a) ** 2 + (Y / b) ** 2 <= 1 + 1e-9, f"{name}: outside the wood at {z:.0f}")
        pith = to_saw(*between(log["butt_pith_mm"], log["top_pith_mm"], share), bolt["roll_deg"])
        least = min(least, math.dist(pith, nearest(pith, (x0, x1), (y0, y1))))
        u, v = ((x0, x1), (y0, y1)) if wide == "x" else ((y0, y1), (x0, x1))
        pu, pv = pith if wide == "x" else pith[::-1]
        angles = [angle(uu - pu, vv - pv) for uu in (*u, clip(pu, u)) for vv in (*v, clip(pv, v))]
        low_angle, high_angle = min([low_angle, *angles]), max([high_angle, *angles])
        if want["rings"] and k % 4 == 0:
            weight = 0.5 if k in (0, STATIONS - 1) else 1.0
            total += weight * sampled_mean(u, v, pu, pv) / ((STATIONS - 1) / 4)
    if want["heart_clearance_mm"] is not None:
        need(least >= want["heart_clearance_mm"] - HAIR_MM, f"{name}: {least:.3f} from the heart")
    judge_rings(name, want["rings"] or {}, low_angle, high_angle, total)
    judge_rot(name, log, bolt, (x0, x1), (y0, y1), (z0, z1))
    judge_knots(name, log, bolt, timber, want)


def clip(value, span):
    return min(max(value, span[0]), span[1])


def nearest(point, xs, ys):
    return clip(point[0], xs), clip(point[1], ys)


def angle(u, v):
    """Between the ring's tangent (square to the radius) and the wide face, which lies along u."""
    if u == 0 and v == 0:
        return 45.0
    tangent = (-v, u)
    cosine = abs(tangent[0]) / math.hypot(*tangent)
    return math.degrees(math.acos(min(1.0, cosine)))


def sampled_mean(u, v, pu, pv, n=40):
    total = 0.0
    for i in range(n):
        uu = abs(u[0] + (u[1] - u[0]) * (i + 0.5) / n - pu)
        for k in range(n):
            total += math.atan2(uu, abs(v[0] + (v[1] - v[0]) * (k + 0.5) / n - pv))
    return math.degrees(total / (n * n))


def judge_rings(name, rings, low, high, mean):
    if rings.get("worst_min_deg") is not None:
        need(low >= rings["worst_min_deg"] - 1e-6, f"{name}: least ring angle {low:.3f}")
    if rings.get("worst_max_deg") is not None:
        need(high <= rings["worst_max_deg"] + 1e-6, f"{name}: greatest ring angle {high:.3f}")
    if rings.get("mean_min_deg") is not None:
        need(mean >= rings["mean_min_deg"] - HAIR_DEG, f"{name}: mean ring angle {mean:.3f}")
    if rings.get("mean_max_deg") is not None:
        need(mean <= rings["mean_max_deg"] + HAIR_DEG, f"{name}: mean ring angle {mean:.3f}")


def judge_rot(name, log, bolt, xs, ys, zs):
    for rot in log["rot"]:
        if zs[1] <= rot["from_mm"] or zs[0] >= rot["to_mm"]:
            continue
        middle = to_saw(rot["x_mm"], rot["y_mm"], bolt["roll_deg"])
        room = math.dist(middle, nearest(middle, xs, ys)) - rot["radius_mm"]
        need(room >= -HAIR_MM, f"{name}: meets rot")


def judge_knots(name, log, bolt, timber, want):
    xs, ys, (z0, z1) = box_of(timber)
    for knot in log["knots"]:
        share = knot["from_butt_mm"] / log["length_mm"]
        px, py = to_saw(*between(log["butt_pith_mm"], log["top_pith_mm"], share), bolt["roll_deg"])
        clock = math.radians(knot["clock_deg"] + bolt["roll_deg"])
        spread = math.sin(math.radians(knot["half_angle_deg"]))
        for first, last in want["knot_free"]:
            if timber["flipped"]:
                first, last = 1 - last, 1 - first
            part = (z0 + first * (z1 - z0), z0 + last * (z1 - z0))
            for s in range(0, int(sum(log["butt_diameter_mm"])), 2):
                place = (px + s * math.cos(clock), py + s * math.sin(clock), knot["from_butt_mm"])
                near = tuple(clip(p, span) for p, span in zip(place, (xs, ys, part), strict=True))
                need(math.dist(place, near) >= s * spread - HAIR_MM, f"{name}: meets a knot")


def free_by_cuts(boxes, gaps):
    """Whether straight cuts right through what is left free every box; every plane is tried."""
    if len(boxes) < 2:
        return True
    for axis in (2, 1, 0):
        for plane in {box[axis][1] for box in boxes}:
            below = [box for box in boxes if box[axis][1] <= plane + HAIR_MM]
            above = [box for box in boxes if box[axis][0] >= plane + gaps[axis] - HAIR_MM]
            if above and len(below) + len(above) == len(boxes):
                return free_by_cuts(below, gaps) and free_by_cuts(above, gaps)
    return False
