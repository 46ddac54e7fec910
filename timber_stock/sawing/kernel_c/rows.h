/* Where along a row a timber may lie. */
static double far_from(double p, double lo, double hi) {
    double a = fabs(p - lo), b = fabs(p - hi);
    return a > b ? a : b;
}

static int keep_outline(const Job *j, const Frame *f, int sap, double z0, double z1, double y,
                        double w, double h, Span *s) {
    for (int e = 0; e < 2; e++) {
        double t = (e ? z1 : z0) / j->length, inset = sap ? 0 : j->sap;
        double a = j->a[0] + (j->a[1] - j->a[0]) * t - inset;
        double b = j->b[0] + (j->b[1] - j->b[0]) * t - inset;
        if (a <= 0 || b <= 0) return 0;
        double ia = 1 / (a * a), ib = 1 / (b * b);
        double A = f->c2 * ia + f->s2 * ib, B = f->cs * (ia - ib), C = f->s2 * ia + f->c2 * ib;
        if (f->swap) { double k = A; A = C; C = k; }
        for (int k = 0; k < 2; k++) {
            double v = k ? y + h : y, d = B * v * B * v - A * (C * v * v - 1);
            if (d < 0) return 0;
            d = sqrt(d);
            double lo = (-B * v - d) / A, hi = (-B * v + d) / A - w;
            if (lo > s->lo) s->lo = lo;
            if (hi < s->hi) s->hi = hi;
        }
    }
    return s->lo <= s->hi;
}

static int heart_hole(double c, const double *pp, const double *qq, double y, double w, double h,
                      Span *hole) {
    double dp = pp[1] - pp[0], dq = qq[1] - qq[0], t[8];
    int n = 2;
    t[0] = 0; t[1] = 1;
    if (fabs(dq) > 1e-9) {
        double k = fabs(dp / dq), d = c * k / sqrt(1 + k * k);
        double at[6] = {y, y + h, y - c, y + h + c, y - d, y + h + d};
        for (int i = 0; i < 6; i++) {
            double u = (at[i] - qq[0]) / dq;
            if (u > 0 && u < 1) t[n++] = u;
        }
    }
    int found = 0;
    for (int i = 0; i < n; i++) {
        double d = gap_to(qq[0] + dq * t[i], y, y + h), r = c * c - d * d;
        if (r < -1e-9) continue;
        r = r > 0 ? sqrt(r) : 0;
        double p = pp[0] + dp * t[i];
        if (!found || p - w - r < hole->lo) hole->lo = p - w - r;
        if (!found || p + r > hole->hi) hole->hi = p + r;
        found = 1;
    }
    return found;
}

/* min|along the row| >= k max|across| at both ends, on one side of the pith. */
static Span far_hole(double k, const double *pp, const double *qq, double y, double w, double h) {
    Span s = {INFINITY, -INFINITY};
    for (int e = 0; e < 2; e++) {
        double m = k * far_from(qq[e], y, y + h);
        if (pp[e] - m - w < s.lo) s.lo = pp[e] - m - w;
        if (pp[e] + m > s.hi) s.hi = pp[e] + m;
    }
    return s;
}
/* max|along the row| <= k min|across| at both ends. */
static int near_keep(double k, const double *pp, const double *qq, double y, double w, double h,
                     Span *s) {
    int below = 0, above = 0;
    for (int e = 0; e < 2; e++) {
        if (qq[e] < y) below++; else if (qq[e] > y + h) above++;
        double m = k * gap_to(qq[e], y, y + h);
        if (pp[e] - m > s->lo) s->lo = pp[e] - m;
        if (pp[e] + m - w < s->hi) s->hi = pp[e] + m - w;
    }
    return (below == 2 || above == 2) && s->lo <= s->hi;
}

/* The knot is the union of balls about s along its axis, of radius s sin(half angle) and a margin.
   Where such a ball meets the row is p(s) -+ sqrt(A s^2 + 2 B s + C), in three pieces as the axis
   lies below, beside or above the section; the ends of the hole lie at one of these places. */
static int knot_places(const Knot *k, double dz, double y, double h, double *s) {
    int n = 2;
    s[0] = 0; s[1] = k->reach;
    for (int piece = 0; piece < 3; piece++) {
        double slope = piece == 1 ? 0 : k->dirq, off = piece == 1 ? 0 : (piece ? y + h : y) - k->q0;
        double A = k->sina * k->sina - slope * slope, B = k->sina * k->grown + slope * off;
        double C = k->grown * k->grown - dz * dz - off * off;
        if (piece != 1 && fabs(slope) > 1e-12) s[n++] = off / slope;
        if (fabs(A) < 1e-12) { if (fabs(B) > 1e-12) s[n++] = -0.5 * C / B; continue; }
        double D = B * B - A * C, E = k->dirp * k->dirp - A;
        if (D >= 0) { s[n++] = (sqrt(D) - B) / A; s[n++] = (-sqrt(D) - B) / A; }
        if (E != 0 && D / E >= 0) {
            double m = fabs(k->dirp) * sqrt(D / E);
            s[n++] = (m - B) / A; s[n++] = (-m - B) / A;
        }
    }
    return n;
}
static int knot_hole(const Knot *k, double dz, double y, double w, double h, Span *hole) {
    double s[20];
    int found = 0, n = knot_places(k, dz, y, h, s);
    for (int i = 0; i < n; i++) {
        if (s[i] < 0 || s[i] > k->reach) continue;
        double b = s[i] * k->sina + k->grown, d = gap_to(k->q0 + k->dirq * s[i], y, y + h);
        double r = b * b - dz * dz - d * d;
        if (r < -1e-6) continue;
        r = r > 0 ? sqrt(r) : 0;
        double p = k->p0 + k->dirp * s[i];
        if (!found || p - r - w < hole->lo) hole->lo = p - r - w;
        if (!found || p + r > hole->hi) hole->hi = p + r;
        found = 1;
    }
    return found;
}

static int make_row(const Job *j, const Frame *f, const Type *t, int along, int flip, double w,
                    double h, double z0, double y, Span *out) {
    Span s = {-INFINITY, INFINITY}, hole[MAX_KNOT * MAX_PART + MAX_ROT + 8];
    int n = 0;
    double z1 = z0 + t->length;
    if (y < f->limit[2] - 1e-9 || y + h > f->limit[3] + 1e-9) return 0;
    s.lo = f->limit[0]; s.hi = f->limit[1] - w;
    if (!keep_outline(j, f, t->sap, z0, z1, y, w, h, &s)) return 0;
    double t0 = z0 / j->length, t1 = z1 / j->length;
    double pp[2] = {f->p[0] + (f->p[1] - f->p[0]) * t0, f->p[0] + (f->p[1] - f->p[0]) * t1};
    double qq[2] = {f->q[0] + (f->q[1] - f->q[0]) * t0, f->q[0] + (f->q[1] - f->q[0]) * t1};
    double inner = along ? t->tan_min : t->tan_max;  /* becomes a hole */
    double outer = along ? t->tan_max : t->tan_min;  /* becomes a keep */
    if (outer >= 0 && !near_keep(along ? outer : 1 / outer, pp, qq, y, w, h, &s)) return 0;
    if (inner >= 0) hole[n++] = far_hole(along ? inner : 1 / inner, pp, qq, y, w, h);
    if (n && hole[0].lo < s.lo && hole[0].hi > s.hi) return 0;
    if (t->clear >= 0) n += heart_hole(t->clear, pp, qq, y, w, h, &hole[n]);
    if (j->quartered) {
        double m = 0.5 * (f->p[0] + f->p[1]), g = 0.5 * j->kerf, c = 0.5 * (f->q[0] + f->q[1]);
        if (y < c + g && y + h > c - g) return 0;
        hole[n].lo = m - g - w; hole[n++].hi = m + g;
    }
    for (int i = 0; i < j->rots; i++) {
        const Rot *r = &f->rot[i];
        double d = gap_to(r->q, y, y + h);
        if (r->from > z1 || r->to < z0 || d >= r->r) continue;
        double g = sqrt(r->r * r->r - d * d);
        hole[n].lo = r->p - g - w; hole[n++].hi = r->p + g;
    }
    for (int i = 0; i < j->knots; i++)
        for (int k = 0; k < t->parts; k++) {
            double a = t->part[2 * k], b = t->part[2 * k + 1];
            if (flip) { double m = 1 - a; a = 1 - b; b = m; }
            double dz = gap_to(f->knot[i].z, z0 + a * t->length, z0 + b * t->length);
            n += knot_hole(&f->knot[i], dz, y, w, h, &hole[n]);
        }
    return subtract(s, hole, n, out, 8);
}

static const Row *row(Job *j, const Frame *f, int type, int wide, int flip, double z, double q) {
    uint64_t bits[2];
    memcpy(bits, &z, 8); memcpy(bits + 1, &q, 8);
    uint64_t k = (bits[0] * 0x9E3779B97F4A7C15ULL) ^ (bits[1] * 0xC2B2AE3D27D4EB4FULL)
               ^ ((uint64_t)f->id * 0x165667B19E3779F9ULL)
               ^ ((uint64_t)(type * 4 + wide * 2 + flip) * 0x27D4EB2F165667C5ULL);
    k ^= k >> 29; k *= 0xBF58476D1CE4E5B9ULL; k ^= k >> 32;
    Row *r = &j->store[k % CACHE];
    j->rows_asked++;
    if (r->id == f->id && r->type == type && r->wide == wide && r->flip == flip && r->z == z
        && r->q == q) return r;
    j->rows_made++;
    const Type *t = &j->type[type];
    int along = wide == f->swap;
    r->id = f->id; r->type = type; r->wide = wide; r->flip = flip; r->z = z; r->q = q;
    r->n = make_row(j, f, t, along, flip, along ? t->width : t->thick, along ? t->thick : t->width,
                    z, q, r->span);
    return r;
}
