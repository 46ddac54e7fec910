/* The log, the timbers and the state of a search; chance. */
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
#define MOST_ROWS 30000                     /* looked at in one filling of a bolt */
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

typedef struct { double p0, q0, dirp, dirq, z, sina, reach, grown; } Knot; /* p along, q across */
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

typedef struct { int bolts; double value; Bolt bolt[MAX_BOLT]; int left[]; } State;

typedef struct {
    long id; int type, wide, flip, n; double z, q; Span span[8];
} Row;

typedef struct {
    double length, a[2], b[2], pith[4], sap, kerf, crosscut;
    int knots, rots, types;
    double knot[4 * MAX_KNOT], rot[5 * MAX_ROT];
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

static double chance(Job *j) {
    uint64_t z = (j->rng += 0x9E3779B97F4A7C15ULL);
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9ULL;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBULL;
    z ^= z >> 31;
    return (double)(z >> 11) * 0x1.0p-53;
}
static int pick(Job *j, int n) { int k = (int)(chance(j) * n); return k < n ? k : n - 1; }
