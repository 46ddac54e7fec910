/* The mean ring angle along a row, and where on it the mean keeps its limits. */
static double gap_to(double p, double lo, double hi) {
    return p < lo ? lo - p : p > hi ? p - hi : 0;
}

static int subtract(Span s, Span *hole, int n, Span *out, int most) {
    for (int i = 1; i < n; i++) {
        Span k = hole[i];
        int m = i;
        while (m > 0 && hole[m - 1].lo > k.lo) { hole[m] = hole[m - 1]; m--; }
        hole[m] = k;
    }
    int made = 0;
    double at = s.lo;
    for (int i = 0; i < n && at <= s.hi; i++) {
        if (hole[i].hi <= at) continue;
        if (hole[i].lo >= at && made < most) {
            double end = hole[i].lo < s.hi ? hole[i].lo : s.hi;
            out[made].lo = at; out[made++].hi = end;
        }
        at = hole[i].hi;
    }
    if (at <= s.hi && made < most) { out[made].lo = at; out[made++].hi = s.hi; }
    return made;
}

static double square_log(double u) { return u == 0 ? 0 : 0.25 * u * u * log(u * u); }

/* Integral of atan(|u|/|v|) from the pith to the corner (u, v), odd in both. */
static double corner(double u, double v, double lu, double lv) {
    double uu = u * u, vv = v * v, r = uu + vv;
    if (r == 0) return 0;
    double au = fabs(u), av = fabs(v);
    double s = au * av * atan2(au, av) + 0.25 * (uu - vv) * log(r) + lv - lu;
    return (u < 0) != (v < 0) ? -s : s;
}
static const double NODE[2] = {0.21132486540518713, 0.7886751345948129};

/* Mean ring angle, radians; along: whether the wide face lies along p. */
static double ring_mean(const double *pp, const double *qq, double x, double y, double w, double h,
                        int along, int pieces) {
    double total = 0;
    for (int i = 0; i < 2 * pieces; i++) {
        double share = (i / 2 + NODE[i & 1]) / pieces;
        double u0 = x - (pp[0] + (pp[1] - pp[0]) * share), u1 = u0 + w;
        double v0 = y - (qq[0] + (qq[1] - qq[0]) * share), v1 = v0 + h;
        double a0 = square_log(u0), a1 = square_log(u1), b0 = square_log(v0), b1 = square_log(v1);
        total += corner(u1, v1, a1, b1) - corner(u0, v1, a0, b1) - corner(u1, v0, a1, b0)
               + corner(u0, v0, a0, b0);
    }
    double mean = total / (2 * pieces * w * h);
    return along ? mean : M_PI / 2 - mean;
}

/* The place nearest `good` on the way to `bad` that still meets the mean limit. */
static double mean_edge(const double *pp, const double *qq, double y, double w, double h, int along,
                        double limit, int least, double good, double bad, double fg, double fb) {
    int side = 0;
    for (int i = 0; i < 12 && fabs(good - bad) > 0.02; i++) {
        double m = good + (bad - good) * fg / (fg - fb);
        double inner = good + (bad - good) * 0.02, outer = bad + (good - bad) * 0.02;
        if ((m - inner) * (outer - inner) < 0) m = inner;
        if ((outer - m) * (outer - inner) < 0) m = outer;
        double f = ring_mean(pp, qq, m, y, w, h, along, 1) - limit;
        if (!least) f = -f;
        if (f >= 0) { good = m; fg = f; if (side == 1) fb *= 0.5; side = 1; }
        else { bad = m; fb = f; if (side == -1) fg *= 0.5; side = -1; }
    }
    return good;
}

/* Narrow s (outward == 0) or cut a hole (outward == 1) so that the mean limit holds. */
static int mean_limit(const double *pp, const double *qq, double y, double w, double h, int along,
                      double limit, int least, Span *s, Span *hole) {
    int outward = along == least;
    double mid = 0.5 * (pp[0] + pp[1]) - 0.5 * w;
#define F(x) (least ? ring_mean(pp, qq, x, y, w, h, along, 1) - limit \
                    : limit - ring_mean(pp, qq, x, y, w, h, along, 1))
    double lo = s->lo, hi = s->hi, c = mid < lo ? lo : mid > hi ? hi : mid;
    double fc = F(c), fl = F(lo), fh = F(hi);
    if (outward) {
        if (fc >= 0 && fl >= 0 && fh >= 0) return 1;
        hole->lo = lo - 1; hole->hi = hi + 1;
        if (fl >= 0 && lo < mid) hole->lo = fc >= 0 ? c
            : mean_edge(pp, qq, y, w, h, along, limit, least, lo, c, fl, fc);
        if (fh >= 0 && hi > mid) hole->hi = fc >= 0 ? c
            : mean_edge(pp, qq, y, w, h, along, limit, least, hi, c, fh, fc);
        return 2;
    }
    if (fc < 0) return 0;
    if (fl < 0) s->lo = mean_edge(pp, qq, y, w, h, along, limit, least, c, lo, fc, fl);
    if (fh < 0) s->hi = mean_edge(pp, qq, y, w, h, along, limit, least, c, hi, fc, fh);
    return 1;
#undef F
}

/* Of the free spans of a row, those parts where the mean ring angle is within its limits. */
static int keep_mean(const Job *j, const Frame *f, const Type *t, int along, double w, double h,
                     double z0, double y, Span *span, int n) {
    double t0 = z0 / j->length, t1 = (z0 + t->length) / j->length;
    double pp[2] = {f->p[0] + (f->p[1] - f->p[0]) * t0, f->p[0] + (f->p[1] - f->p[0]) * t1};
    double qq[2] = {f->q[0] + (f->q[1] - f->q[0]) * t0, f->q[0] + (f->q[1] - f->q[0]) * t1};
    for (int least = 0; least < 2; least++) {
        double limit = least ? t->mean_min : t->mean_max;
        if (limit < 0) continue;
        Span kept[64];
        int m = 0;
        for (int i = 0; i < n && m < 62; i++) {
            Span hole, s = span[i];
            int r = mean_limit(pp, qq, y, w, h, along, limit, least, &s, &hole);
            if (r == 1) kept[m++] = s;
            if (r == 2) m += subtract(s, &hole, 1, kept + m, 2);
        }
        memcpy(span, kept, sizeof(Span) * m);
        n = m;
    }
    return n;
}
