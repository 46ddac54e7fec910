/* Places timbers in a log by ruin and re-creation.  It gives the very same layouts as the plain
   Python beside it (plain_search.py and the rest), number for number, only sooner. */
#include "stock.h"
#include "mean.h"
#include "rows.h"
#include "saw.h"
#include "place.h"
#include "search.h"

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
    memcpy(j->knot, knots, sizeof(double) * 4 * n_knots);
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
