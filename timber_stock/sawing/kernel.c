/* Places timbers in a log by ruin and re-creation.  Written to give the very same answers as the
   plain Python of search_plain.py, number for number, only sooner. */
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#define MAX_BOX 256
#define MAX_BOLT 64
#define MAX_KNOT 64
#define MAX_ROT 64
#define MAX_PART 8
#define CACHE 4096
#define TOP 6                               /* places tried in earnest for one timber */
#define LEVEL 0.3                           /* how often rows level with a neighbour are tried */
#define REROLL 0.25                         /* how often a step begins by rolling the log */
#define HAIR 0.0002                          /* radians; the limits lie further in than this */

typedef struct { double lo, hi; } Span;

typedef struct {
    double thick, width, length, worth;      /* worth of one piece */
    double clear;                            /* negative: none */
    double mean_min, mean_max;               /* radians; negative: none */
    double tan_min, tan_max;                 /* of the worst limits; negative: none */
    int sap, parts, quantity;
    double part[2 * MAX_PART];
} Type;

typedef struct { double p0, q0, dirp, dirq, z, sina, reach; } Knot; /* p along the row, q across */
typedef struct { double p, q, r, from, to; } Rot;

typedef struct {                             /* the log seen along one saw axis */
    double c2, s2, cs;                       /* of the roll, for the outline's form */
    double p[2], q[2];                       /* pith at butt and top */
    Knot knot[MAX_KNOT];
    Rot rot[MAX_ROT];
    double limit[4];                         /* faces already sawn: p low, p high, q low, q high */
    int swap;
    long id;                                 /* for the store of rows */
} Frame;

typedef struct { int type, wide, flip, fixed; double lo[3], size[3]; } Box; /* wide: axis of the wide face */

typedef struct { double z0, z1, roll, face[4]; int fixed, n; Box box[MAX_BOX]; Frame frame[2]; } Bolt;

typedef struct { int bolts; double value; Bolt bolt[MAX_BOLT]; int left[1]; } State;

typedef struct {
    long id; int type, wide, flip, n; double z, q; Span span[8];
} Row;

typedef struct {
    double length, a[2], b[2], pith[4], sap, kerf, crosscut;
    int knots, rots, types;
    double knot[3 * MAX_KNOT], rot[5 * MAX_ROT];
    Type *type;
    double reach;                            /* the greatest half diameter */
    double turn_cost; int most_turns, quartered;
    long ids, rows_asked, rows_made;
    uint64_t rng;
    Row *store;
    size_t state_size;
    State *cur, *trial, *best;
    double *key; int *order;
} Job;

/* ---- chance ---- */
static double chance(Job *j) {
    uint64_t z = (j->rng += 0x9E3779B97F4A7C15ULL);
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9ULL;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBULL;
    z ^= z >> 31;
    return (double)(z >> 11) * 0x1.0p-53;
}
static int pick(Job *j, int n) { int k = (int)(chance(j) * n); return k < n ? k : n - 1; }

/* ---- rings ---- */
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

/* ---- rows: where along a row a timber may lie ---- */
static double gap_to(double p, double lo, double hi) {
    return p < lo ? lo - p : p > hi ? p - hi : 0;
}
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

static double ball_reach(const Knot *k, double s, double dz, double y, double h) {
    double r = s * k->sina, d = gap_to(k->q0 + k->dirq * s, y, y + h);
    return r * r - dz * dz - d * d;
}
static int knot_hole(const Knot *k, double dz, double y, double w, double h, Span *hole) {
    int found = 0;
    for (int i = 0; i <= 48; i++) {
        double s = k->reach * i / 48, r = ball_reach(k, s, dz, y, h);
        r += 1.0 + 0.02 * s;                 /* a little over, for what lies between stations */
        if (r < 0) continue;
        r = sqrt(r) + 0.3;
        double p = k->p0 + k->dirp * s;
        if (!found || p - r - w < hole->lo) hole->lo = p - r - w;
        if (!found || p + r > hole->hi) hole->hi = p + r;
        found = 1;
    }
    return found;
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

/* ---- can the saw reach it ---- */
static int groups(const Box **b, int n, int axis, double gap) { /* sorts; marks of group ends */
    for (int i = 1; i < n; i++) {
        const Box *k = b[i];
        int m = i;
        while (m > 0 && b[m - 1]->lo[axis] > k->lo[axis]) { b[m] = b[m - 1]; m--; }
        b[m] = k;
    }
    double end = b[0]->lo[axis] + b[0]->size[axis];
    for (int i = 1; i < n; i++) {
        if (b[i]->lo[axis] >= end + gap - 1e-9) return i;
        double e = b[i]->lo[axis] + b[i]->size[axis];
        if (e > end) end = e;
    }
    return n;
}
static int sawable(const Job *j, const Box **b, int n) {
    if (n <= 1) return 1;
    for (int axis = 0; axis < 3; axis++) {
        int k = groups(b, n, axis, axis == 2 ? j->crosscut : j->kerf);
        if (k < n) return sawable(j, b, k) && sawable(j, b + k, n - k);
    }
    return 0;
}

/* Rounds of cutting, the piece turned between them, beginning with `axis`; a crosscut needs no turn
   and is made only where neither rip can part the piece. */
static int stages(const Job *j, const Box **b, int n, int axis, const double *lo, const double *hi) {
    if (n == 1) {
        int open[2];
        for (int a = 0; a < 2; a++)
            open[a] = fabs(lo[a] - b[0]->lo[a]) > 0.01
                   || fabs(hi[a] - b[0]->lo[a] - b[0]->size[a]) > 0.01;
        return open[1 - axis] ? 2 : open[axis];
    }
    if (groups(b, n, 1 - axis, j->kerf) == n && groups(b, n, axis, j->kerf) == n) {
        int k = groups(b, n, 2, j->crosscut);
        if (k == n) return 99;
        int p = stages(j, b, k, axis, lo, hi), q = stages(j, b + k, n - k, axis, lo, hi);
        return p > q ? p : q;
    }
    int most = 0;
    for (int i = 0, k; i < n; i += k) {
        k = groups(b + i, n - i, axis, j->kerf);
        double l[2] = {lo[0], lo[1]}, h[2] = {hi[0], hi[1]};
        l[axis] = INFINITY; h[axis] = -INFINITY;
        for (int m = i; m < i + k; m++) {
            double near = b[m]->lo[axis], far = near + b[m]->size[axis];
            if (near < l[axis]) l[axis] = near;
            if (far > h[axis]) h[axis] = far;
        }
        int s = 1 + stages(j, b + i, k, 1 - axis, l, h);
        if (s > most) most = s;
    }
    return most;
}
static int turns(const Job *j, const Bolt *bolt) {
    const Box *b[MAX_BOX];
    int least = 99;
    if (!bolt->n) return 0;
    for (int axis = 0; axis < 2; axis++) {
        for (int i = 0; i < bolt->n; i++) b[i] = &bolt->box[i];
        double lo[2] = {-INFINITY, -INFINITY}, hi[2] = {INFINITY, INFINITY};
        int s = stages(j, b, bolt->n, axis, lo, hi) - 1;
        if (s < least) least = s;
    }
    return least;
}

/* ---- placing ---- */
typedef struct { double score; Box box; } Choice;

static void put_choice(Choice *top, int *n, double score, const Box *box) {
    if (*n == TOP && score <= top[TOP - 1].score) return;
    int at = *n < TOP ? (*n)++ : TOP - 1;
    while (at > 0 && top[at - 1].score < score) { top[at] = top[at - 1]; at--; }
    top[at].score = score; top[at].box = *box;
}

typedef struct { int mode; double gx, gy; } Pull;

static double score_of(const Pull *pull, const Bolt *bolt, double length, const Box *b) {
    double x = b->lo[0] + 0.5 * b->size[0], y = b->lo[1] + 0.5 * b->size[1];
    if (pull->mode == 0) return pull->gx * x + pull->gy * y;
    double t = (b->lo[2] + 0.5 * b->size[2]) / length;
    const Frame *f = &bolt->frame[0];
    double dx = x - (f->p[0] + (f->p[1] - f->p[0]) * t), dy = y - (f->q[0] + (f->q[1] - f->q[0]) * t);
    double d = sqrt(dx * dx + dy * dy);
    return pull->mode == 1 ? d : -d;
}

typedef struct { double lo[3], hi[3]; } Window;

/* Free spans of a row, clear of what is placed. */
static int free_row(Job *j, const Bolt *bolt, int swap, const Box *shape, double q,
                    const Window *win, Span *out) {
    const Row *r = row(j, &bolt->frame[swap], shape->type, shape->wide, shape->flip, shape->lo[2], q);
    if (!r->n) return 0;
    Span hole[MAX_BOX];
    int n = 0, p = swap, c = 1 - swap, made = 0;
    double w = shape->size[p], h = shape->size[c], z = shape->lo[2], l = shape->size[2];
    for (int i = 0; i < bolt->n; i++) {
        const Box *b = &bolt->box[i];
        if (b->lo[c] >= q + h + j->kerf - 1e-9 || q >= b->lo[c] + b->size[c] + j->kerf - 1e-9) continue;
        if (b->lo[2] >= z + l + j->crosscut - 1e-9 || z >= b->lo[2] + b->size[2] + j->crosscut - 1e-9)
            continue;
        hole[n].lo = b->lo[p] - j->kerf - w; hole[n++].hi = b->lo[p] + b->size[p] + j->kerf;
    }
    for (int i = 0; i < r->n && made < 60; i++)
        made += subtract(r->span[i], hole, n, out + made, 60 - made);
    const Type *t = &j->type[shape->type];
    if (win) {
        int kept = 0;
        for (int i = 0; i < made; i++)
            if (out[i].lo <= win->hi[p] && out[i].hi + w >= win->lo[p]) out[kept++] = out[i];
        made = kept;
    }
    if (!made || (t->mean_min < 0 && t->mean_max < 0)) return made;
    return keep_mean(j, &bolt->frame[swap], t, shape->wide == p, w, h, z, q, out, made);
}

static void try_row(Job *j, const Bolt *bolt, int swap, Box *shape, double q, const Window *win,
                    const Pull *pull, Choice *top, int *n) {
    int p = swap, c = 1 - swap;
    if (q > win->hi[c] || q + shape->size[c] < win->lo[c]) return;
    Span span[64];
    int m = free_row(j, bolt, swap, shape, q, win, span);
    shape->lo[c] = q;
    for (int i = 0; i < m; i++)
        for (int e = 0; e < 2; e++) {
            double at = e ? span[i].hi : span[i].lo;
            if (at > win->hi[p] || at + shape->size[p] < win->lo[p]) continue;
            shape->lo[p] = at;
            put_choice(top, n, score_of(pull, bolt, j->length, shape), shape);
            if (span[i].hi - span[i].lo < 1e-9) break;
        }
}

static void try_shape(Job *j, const Bolt *bolt, Box *shape, const Window *win, const Pull *pull,
                      Choice *top, int *n) {
    double z = shape->lo[2], l = shape->size[2];
    const Type *t = &j->type[shape->type];
    for (int swap = 0; swap < 2; swap++) {
        int c = 1 - swap;
        const Frame *f = &bolt->frame[swap];
        double h = shape->size[c];
        for (int i = 0; i < bolt->n; i++) {
            const Box *b = &bolt->box[i];
            if (b->lo[2] >= z + l + j->crosscut - 1e-9
                || z >= b->lo[2] + b->size[2] + j->crosscut - 1e-9) continue;
            try_row(j, bolt, swap, shape, b->lo[c] + b->size[c] + j->kerf, win, pull, top, n);
            try_row(j, bolt, swap, shape, b->lo[c] - j->kerf - h, win, pull, top, n);
            if (chance(j) >= LEVEL) continue;
            try_row(j, bolt, swap, shape, b->lo[c], win, pull, top, n);
            try_row(j, bolt, swap, shape, b->lo[c] + b->size[c] - h, win, pull, top, n);
        }
        double q0 = f->q[0] + (f->q[1] - f->q[0]) * z / j->length;
        double q1 = f->q[0] + (f->q[1] - f->q[0]) * (z + l) / j->length;
        double mid = 0.5 * (q0 + q1), clear = t->clear > 0 ? t->clear : 0;
        try_row(j, bolt, swap, shape, mid - 0.5 * h, win, pull, top, n);
        try_row(j, bolt, swap, shape, (q0 > q1 ? q0 : q1) + clear, win, pull, top, n);
        try_row(j, bolt, swap, shape, (q0 < q1 ? q0 : q1) - clear - h, win, pull, top, n);
        double lo = win->lo[c] - h, hi = win->hi[c];
        double r = j->reach;
        if (lo < -r) lo = -r;
        if (hi > r) hi = r;
        try_row(j, bolt, swap, shape, lo + (hi - lo) * chance(j), win, pull, top, n);
    }
}

/* Slide a placed choice along each axis in turn towards the pull. */
static void slide(Job *j, const Bolt *bolt, const Pull *pull, Box *b) {
    for (int pass = 0; pass < 4; pass++) {
        int swap = pass & 1, p = swap, c = 1 - swap;
        Span span[64];
        int m = free_row(j, bolt, swap, b, b->lo[c], NULL, span);
        for (int i = 0; i < m; i++) {
            if (b->lo[p] < span[i].lo - 1e-6 || b->lo[p] > span[i].hi + 1e-6) continue;
            Box k = *b;
            double best = score_of(pull, bolt, j->length, b), s;
            k.lo[p] = span[i].lo;
            if ((s = score_of(pull, bolt, j->length, &k)) > best) { *b = k; best = s; }
            k.lo[p] = span[i].hi;
            if ((s = score_of(pull, bolt, j->length, &k)) > best) *b = k;
            break;
        }
    }
}

/* The mean again, by finer steps along the length: rows use few, and the pith may cross an edge. */
static int mean_holds(const Job *j, const Bolt *bolt, const Box *b) {
    const Type *t = &j->type[b->type];
    if (t->mean_min < 0 && t->mean_max < 0) return 1;
    const Frame *f = &bolt->frame[0];
    double t0 = b->lo[2] / j->length, t1 = (b->lo[2] + t->length) / j->length;
    double pp[2] = {f->p[0] + (f->p[1] - f->p[0]) * t0, f->p[0] + (f->p[1] - f->p[0]) * t1};
    double qq[2] = {f->q[0] + (f->q[1] - f->q[0]) * t0, f->q[0] + (f->q[1] - f->q[0]) * t1};
    double m = ring_mean(pp, qq, b->lo[0], b->lo[1], b->size[0], b->size[1], b->wide == 0, 6);
    if (t->mean_min >= 0 && m < t->mean_min - HAIR) return 0;
    return t->mean_max < 0 || m <= t->mean_max + HAIR;
}

static int try_insert(Job *j, State *s, int bi, int type, const Window *win, const Pull *pull) {
    Bolt *bolt = &s->bolt[bi];
    const Type *t = &j->type[type];
    Choice top[TOP];
    double zs[8];
    int n = 0, nz = 0;
    double last = bolt->z1 - t->length - 0.002;
    if (bolt->n >= MAX_BOX - 1 || bolt->z1 - t->length < bolt->z0 - 1e-9)
        return 0;
    if (last < bolt->z0) last = bolt->z0;
    zs[nz++] = bolt->z0;
    if (last > bolt->z0) {
        zs[nz++] = last;
        if (bolt->n) {
            const Box *b = &bolt->box[pick(j, bolt->n)];
            zs[nz] = chance(j) < 0.5 ? b->lo[2] + b->size[2] + j->crosscut
                                     : b->lo[2] - j->crosscut - t->length;
            if (zs[nz] > bolt->z0 && zs[nz] < last) nz++;
        }
        if (j->rots || j->knots) {
            zs[nz++] = bolt->z0 + (last - bolt->z0) * chance(j);
            if (j->rots) {
                double to = j->rot[5 * pick(j, j->rots) + 4] + 1e-3;
                if (to > bolt->z0 && to < last) zs[nz++] = to;
            }
        }
    }
    for (int k = 0; k < nz; k++) {
        if (k && (zs[k] == zs[0])) continue;
        for (int wide = 0; wide < 2; wide++)
            for (int flip = 0; flip < (t->parts && j->knots ? 2 : 1); flip++) {
                Box b = {type, wide, flip, 0, {0, 0, zs[k]}, {t->thick, t->thick, t->length}};
                b.size[wide] = t->width;
                try_shape(j, bolt, &b, win, pull, top, &n);
            }
    }
    for (int i = 0; i < n; i++) {
        const Box *b[MAX_BOX];
        Box *spot = &bolt->box[bolt->n];
        *spot = top[i].box;
        slide(j, bolt, pull, spot);
        for (int again = 0; again < 2; again++) {
            if (again) *spot = top[i].box;
            for (int k = 0; k <= bolt->n; k++) b[k] = &bolt->box[k];
            if (mean_holds(j, bolt, spot) && sawable(j, b, bolt->n + 1)) {
                bolt->n++;
                if (j->most_turns < 99 && turns(j, bolt) > j->most_turns) { bolt->n--; continue; }
                s->left[type]--;
                return 1;
            }
        }
    }
    return 0;
}

/* ---- ruin and re-creation ---- */
static void set_roll(Job *j, Bolt *bolt, double roll) {
    double th = roll * M_PI / 180, c = cos(th), s = sin(th);
    bolt->roll = roll;
    for (int swap = 0; swap < 2; swap++) {
        Frame *f = &bolt->frame[swap];
        f->swap = swap; f->id = ++j->ids;
        for (int i = 0; i < 4; i++) f->limit[i] = bolt->face[swap ? (i + 2) % 4 : i];
        f->c2 = c * c; f->s2 = s * s; f->cs = c * s;
        for (int e = 0; e < 2; e++) {
            double X = j->pith[2 * e], Y = j->pith[2 * e + 1];
            double x = c * X - s * Y, y = s * X + c * Y;
            f->p[e] = swap ? y : x; f->q[e] = swap ? x : y;
        }
        for (int i = 0; i < j->rots; i++) {
            const double *r = &j->rot[5 * i];
            double x = c * r[0] - s * r[1], y = s * r[0] + c * r[1];
            f->rot[i] = (Rot){swap ? y : x, swap ? x : y, r[2], r[3], r[4]};
        }
        for (int i = 0; i < j->knots; i++) {
            const double *k = &j->knot[3 * i];
            double t = k[0] / j->length, a = (k[1] + roll) * M_PI / 180;
            double p = f->p[0] + (f->p[1] - f->p[0]) * t, q = f->q[0] + (f->q[1] - f->q[0]) * t;
            double dx = cos(a), dy = sin(a), reach = 2 * (j->a[0] + j->b[0] + j->a[1] + j->b[1]);
            f->knot[i] = (Knot){p, q, swap ? dy : dx, swap ? dx : dy, k[0], sin(k[2] * M_PI / 180),
                                reach * 0.5};
        }
    }
}

static void take_out(State *s, Bolt *bolt, int i, Window *win, double room) {
    Box *b = &bolt->box[i];
    for (int a = 0; a < 3; a++) {
        if (b->lo[a] - room < win->lo[a]) win->lo[a] = b->lo[a] - room;
        if (b->lo[a] + b->size[a] + room > win->hi[a]) win->hi[a] = b->lo[a] + b->size[a] + room;
    }
    s->left[b->type]++;
    memmove(b, b + 1, sizeof(Box) * (bolt->n - 1 - i));
    bolt->n--;
}

static int still_lawful(Job *j, const Bolt *bolt, const Box *b) {
    const Type *t = &j->type[b->type];
    const Row *r = row(j, &bolt->frame[0], b->type, b->wide, b->flip, b->lo[2], b->lo[1]);
    for (int i = 0; i < r->n; i++) {
        if (b->lo[0] < r->span[i].lo || b->lo[0] > r->span[i].hi) continue;
        Span only = {b->lo[0], b->lo[0]};
        return keep_mean(j, &bolt->frame[0], t, b->wide == 0, b->size[0], b->size[1], b->lo[2],
                         b->lo[1], &only, 1) && mean_holds(j, bolt, b);
    }
    return 0;
}

static void refill(Job *j, State *s, int bi, const Window *win, double wild) {
    int n = 0;
    for (int t = 0; t < j->types; t++) {
        if (s->left[t] <= 0) continue;
        double u = chance(j), power = chance(j);
        const Type *y = &j->type[t];
        double base = log(y->worth + 1e-9) - (power < 0.3 ? 0.5 * log(y->length * y->width * y->thick) : 0);
        if (power < 0.3) base *= 1.5;
        j->key[t] = base - wild * log(-log(u * 0.999998 + 1e-6));
        int at = n++;
        while (at > 0 && j->key[j->order[at - 1]] < j->key[t]) { j->order[at] = j->order[at - 1]; at--; }
        j->order[at] = t;
    }
    if (n > 24) n = 24;
    int fixed = chance(j) < 0.5;
    double a = 2 * M_PI * chance(j);
    Pull pull = {0, cos(a), sin(a)};
    if (chance(j) < 0.5) { pull.gx = chance(j) < 0.5 ? -1 : 1; pull.gy = chance(j) < 0.5 ? -0.1 : 0.1;
        if (chance(j) < 0.5) { double k = pull.gx; pull.gx = pull.gy; pull.gy = k; } }
    if (!fixed) pull.mode = chance(j) < 0.6 ? 1 : 2;
    for (int i = 0; i < n; i++) {
        while (s->left[j->order[i]] > 0) {
            Pull use = pull;
            if (chance(j) < 0.15) { double b = 2 * M_PI * chance(j); use = (Pull){0, cos(b), sin(b)}; }
            if (!try_insert(j, s, bi, j->order[i], win, &use)) break;
        }
    }
}

static double value_of(const Job *j, const State *s) {
    double v = 0;
    for (int b = 0; b < s->bolts; b++) {
        for (int i = 0; i < s->bolt[b].n; i++) v += j->type[s->bolt[b].box[i].type].worth;
        if (j->turn_cost > 0) v -= j->turn_cost * turns(j, &s->bolt[b]);
    }
    return v;
}

static void copy_state(const Job *j, State *to, const State *from) {
    to->bolts = from->bolts; to->value = from->value;
    for (int b = 0; b < from->bolts; b++) {
        const Bolt *f = &from->bolt[b];
        Bolt *t = &to->bolt[b];
        t->z0 = f->z0; t->z1 = f->z1; t->roll = f->roll; t->n = f->n; t->fixed = f->fixed;
        memcpy(t->face, f->face, sizeof(f->face));
        memcpy(t->box, f->box, sizeof(Box) * f->n);
        memcpy(t->frame, f->frame, sizeof(f->frame));
    }
    memcpy(to->left, from->left, sizeof(int) * j->types);
}

static const Window EVERYWHERE = {{-1e9, -1e9, -1e9}, {1e9, 1e9, 1e9}};

static void one_step(Job *j, double heat) {
    State *s = j->trial;
    copy_state(j, s, j->cur);
    int bi = pick(j, s->bolts);
    Bolt *bolt = &s->bolt[bi];
    Window win = {{1e9, 1e9, 1e9}, {-1e9, -1e9, -1e9}};
    double u = chance(j);
    if (u < REROLL && !bolt->fixed) {
        double step = chance(j), size = step < 0.4 ? 0.5 : step < 0.8 ? 2.5 : 12;
        double roll = bolt->roll + floor((2 * chance(j) - 1) * size * 20 + 0.5) / 20;
        if (roll < 0) roll += 180;
        if (roll >= 180) roll -= 180;
        set_roll(j, bolt, roll);
        for (int i = bolt->n - 1; i >= 0; i--)
            if (!still_lawful(j, bolt, &bolt->box[i])) take_out(s, bolt, i, &win, 0);
        win = EVERYWHERE;
    }
    if (bolt->n && (u >= REROLL || chance(j) < 0.5)) {
        int most = 1 + pick(j, bolt->n < 6 ? bolt->n : 6), at = pick(j, bolt->n);
        double c[3];
        for (int a = 0; a < 3; a++) c[a] = bolt->box[at].lo[a] + 0.5 * bolt->box[at].size[a];
        for (int k = 0; k < most && bolt->n; k++) {
            int near = -1;
            double least = INFINITY;
            for (int i = 0; i < bolt->n; i++) {
                double d = 0;
                if (bolt->box[i].fixed) continue;
                for (int a = 0; a < 3; a++) {
                    double g = gap_to(c[a], bolt->box[i].lo[a], bolt->box[i].lo[a] + bolt->box[i].size[a]);
                    d += g * g;
                }
                d *= 0.5 + chance(j);
                if (d < least) { least = d; near = i; }
            }
            if (near < 0) break;
            take_out(s, bolt, near, &win, 10);
        }
    }
    if (!bolt->n || chance(j) < 0.1) win = EVERYWHERE;
    refill(j, s, bi, &win, chance(j) < 0.5 ? 0.3 : 1.0);
    for (int b = 0; b < s->bolts; b++)
        if (b != bi && chance(j) < 0.15) refill(j, s, b, &EVERYWHERE, 0.5);
    s->value = value_of(j, s);
    double floor_value = j->cur->value - heat * j->best->value * chance(j);
    if (s->value >= floor_value) {
        State *k = j->cur; j->cur = j->trial; j->trial = k;
        if (j->cur->value > j->best->value) copy_state(j, j->best, j->cur);
    }
}

/* ---- the doors ---- */
Job *job_new(const double *log_, const double *knots, int n_knots, const double *rots, int n_rots,
             const double *types, const int *type_ints, const double *parts, int n_types,
             double turn_cost, int most_turns, int quartered) {
    if (n_knots > MAX_KNOT || n_rots > MAX_ROT) return NULL;
    Job *j = calloc(1, sizeof(Job));
    j->length = log_[0];
    for (int e = 0; e < 2; e++) { j->a[e] = log_[1 + 2 * e]; j->b[e] = log_[2 + 2 * e]; }
    for (int i = 0; i < 4; i++) j->pith[i] = log_[5 + i];
    for (int e = 0; e < 2; e++) {
        if (j->a[e] > j->reach) j->reach = j->a[e];
        if (j->b[e] > j->reach) j->reach = j->b[e];
    }
    j->sap = log_[9]; j->kerf = log_[10]; j->crosscut = log_[11];
    j->knots = n_knots; j->rots = n_rots; j->types = n_types;
    memcpy(j->knot, knots, sizeof(double) * 3 * n_knots);
    memcpy(j->rot, rots, sizeof(double) * 5 * n_rots);
    j->type = calloc(n_types + 1, sizeof(Type));
    for (int i = 0; i < n_types; i++) {
        const double *d = types + 9 * i;
        Type *t = &j->type[i];
        t->thick = d[0]; t->width = d[1]; t->length = d[2]; t->worth = d[3]; t->clear = d[4];
        t->mean_min = d[5]; t->mean_max = d[6]; t->tan_min = d[7]; t->tan_max = d[8];
        t->sap = type_ints[3 * i]; t->quantity = type_ints[3 * i + 1]; t->parts = type_ints[3 * i + 2];
        memcpy(t->part, parts + 2 * MAX_PART * i, sizeof(double) * 2 * MAX_PART);
    }
    j->turn_cost = turn_cost; j->most_turns = most_turns; j->quartered = quartered;
    j->store = calloc(CACHE, sizeof(Row));
    j->state_size = sizeof(State) + sizeof(int) * (n_types + 1);
    j->cur = calloc(1, j->state_size); j->trial = calloc(1, j->state_size);
    j->best = calloc(1, j->state_size);
    j->key = calloc(n_types + 1, sizeof(double)); j->order = calloc(n_types + 1, sizeof(int));
    return j;
}
void job_free(Job *j) {
    free(j->type); free(j->store); free(j->cur); free(j->trial); free(j->best); free(j->key);
    free(j->order); free(j);
}

/* Begin from the given bolts (z0, z1, roll, and the four faces already sawn; whether the roll is
   settled) and boxes (bolt, type, wide, flip, fixed / x, y, z). */
void job_begin(Job *j, uint64_t seed, int bolts, const double *bolt, const int *settled, int n,
               const int *ints, const double *xyz) {
    State *s = j->cur;
    j->rng = seed;
    s->bolts = bolts;
    for (int t = 0; t < j->types; t++) s->left[t] = j->type[t].quantity;
    for (int b = 0; b < bolts; b++) {
        s->bolt[b].z0 = bolt[7 * b]; s->bolt[b].z1 = bolt[7 * b + 1]; s->bolt[b].n = 0;
        memcpy(s->bolt[b].face, bolt + 7 * b + 3, 4 * sizeof(double));
        s->bolt[b].fixed = settled[b];
        set_roll(j, &s->bolt[b], bolt[7 * b + 2]);
    }
    for (int i = 0; i < n; i++) {
        Bolt *b = &s->bolt[ints[5 * i]];
        const Type *t = &j->type[ints[5 * i + 1]];
        Box *x = &b->box[b->n++];
        x->type = ints[5 * i + 1]; x->wide = ints[5 * i + 2]; x->flip = ints[5 * i + 3];
        x->fixed = ints[5 * i + 4];
        memcpy(x->lo, xyz + 3 * i, 3 * sizeof(double));
        x->size[0] = x->size[1] = t->thick; x->size[2] = t->length; x->size[x->wide] = t->width;
        s->left[x->type]--;
    }
    for (int b = 0; b < bolts; b++) refill(j, s, b, &EVERYWHERE, 0.3);
    s->value = value_of(j, s);
    copy_state(j, j->best, s);
}
/* One unit of work is a thousand rows looked at. */
double job_run(Job *j, double units, double heat, double goal) {
    long target = j->rows_asked + (long)(units * 1000);
    while (j->rows_asked < target && j->best->value < goal) {
        j->rows_asked += 20;
        one_step(j, heat);
    }
    return j->best->value;
}
int job_best(const Job *j, double *bolt, int *ints, double *xyz, int most) {
    const State *s = j->best;
    int n = 0;
    for (int b = 0; b < s->bolts; b++) {
        bolt[b] = s->bolt[b].roll;
        for (int i = 0; i < s->bolt[b].n && n < most; i++, n++) {
            const Box *x = &s->bolt[b].box[i];
            int row_[5] = {b, x->type, x->wide, x->flip, x->fixed};
            memcpy(ints + 5 * n, row_, sizeof(row_));
            memcpy(xyz + 3 * n, x->lo, 3 * sizeof(double));
        }
    }
    return n;
}
void job_counts(const Job *j, long *out) { out[0] = j->rows_asked; out[1] = j->rows_made; }
