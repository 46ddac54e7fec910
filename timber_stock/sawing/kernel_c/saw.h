/* Whether the saw can free a set of boxes, and in how many turns. */
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
