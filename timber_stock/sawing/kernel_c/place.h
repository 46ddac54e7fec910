/* Finding a timber a place: every row beside a neighbour, the best few tried in earnest. */
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
