/* Ruin a part of a layout, build it again, keep what is better. */
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
            const double *k = &j->knot[4 * i];
            double t = k[0] / j->length, a = (k[1] + roll) * M_PI / 180;
            double p = f->p[0] + (f->p[1] - f->p[0]) * t, q = f->q[0] + (f->q[1] - f->q[0]) * t;
            double dx = cos(a), dy = sin(a), reach = 2 * (j->a[0] + j->b[0] + j->a[1] + j->b[1]);
            f->knot[i] = (Knot){p, q, swap ? dy : dx, swap ? dx : dy, k[0], sin(k[2] * M_PI / 180),
                                reach * 0.5, k[3]};
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
    long enough = j->rows_asked + MOST_ROWS;
    for (int i = 0; i < n; i++) {
        while (s->left[j->order[i]] > 0 && j->rows_asked < enough) {
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
