/* synth-tube.c - chain matrices from lips to glottis, and their poles by continuation from the lossless tube.
 *
 * Without losses the denominator is real on the frequency axis, so each of its sign changes is one resonance and none
 * can be missed. The losses are then brought in by small steps, and each pole is followed into the s-plane by Newton's
 * method. */
#include "synth-tube.h"

#include <math.h>
#include <stdlib.h>

/* Sondhi & Schroeter 1987: friction and heat; damping and stiffness over mass of the walls; (2 pi 203 Hz)^2 is the
 * wall's mass against the air's stiffness, the lowest resonance of a tract with both ends shut. */
#define FRICTION_PER_S        4.0
#define WALL_DAMPING_PER_S    (130.0 * G_PI)
#define WALL_STIFFNESS_PER_S2 (30.0 * G_PI * 30.0 * G_PI)
#define WALL_COUPLING_PER_S2  (406.0 * G_PI * 406.0 * G_PI)

#define AIR_G_PER_CM3     1.14e-3 /* moist air at 37 degrees Celsius */
#define AIR_VISCOSITY     1.86e-4 /* dyn s / cm2 */
#define GLOTTIS_LENGTH_CM 1.2     /* vibrating part of the folds; thickness 0.3 cm: Flanagan 1972, from memory */
#define GLOTTIS_THICK_CM  0.3
#define LUNG_DYN_PER_CM2  8000.0 /* 8 cm of water */

synth_tube synth_tube_uniform(double length_cm, double area_cm2, int n)
{
    synth_tube tube = {.n = n, .section_cm = length_cm / n, .sound_cm_per_s = 35000.0};

    g_assert(n >= 1 && n <= SYNTH_SECTIONS_MAX);
    for (int i = 0; i < n; i++)
        tube.area_cm2[i] = area_cm2;
    return tube;
}

double synth_tube_length_cm(const synth_tube *tube)
{
    return tube->n * tube->section_cm;
}

/* ---- changes --------------------------------------------------------------------------------------------------- */

void synth_tube_scale(synth_tube *tube, double ratio)
{
    tube->section_cm *= ratio;
    tube->branch_cm *= ratio;
    tube->branch_cm2 *= ratio * ratio;
    tube->glottis_cm2 *= ratio * ratio;
    for (int i = 0; i < tube->n; i++)
        tube->area_cm2[i] *= ratio * ratio;
}

/* The lower jaw turns about its joint: the mouth widens the more the nearer the lips, and the tongue root is pushed
 * back a little (its direction: Fant 1960; its size: invented for the tests). */
void synth_tube_open_jaw(synth_tube *tube, double amount)
{
    for (int i = 0; i < tube->n; i++) {
        double x = (i + 0.5) / tube->n;
        double mouth = x > 0.5 ? (x - 0.5) / 0.5 : 0.0;
        double throat = x > 0.1 && x < 0.5 ? sin(G_PI * (x - 0.1) / 0.4) : 0.0;

        tube->area_cm2[i] = tube->area_cm2[i] * exp(-0.25 * amount * throat) + amount * 1.5 * mouth * mouth;
    }
}

#define PERTURB_PARTS 6 /* half waves along the tract: nothing shorter than about 3 cm moves by itself */

void synth_tube_perturb(synth_tube *tube, double sd, synth_random *random)
{
    double weight[PERTURB_PARTS];

    for (int j = 0; j < PERTURB_PARTS; j++)
        weight[j] = synth_random_gauss(random, sd * sqrt(2.0 / PERTURB_PARTS));
    for (int i = 0; i < tube->n; i++) {
        double change = 0.0;

        for (int j = 0; j < PERTURB_PARTS; j++)
            change += weight[j] * cos(G_PI * (j + 1) * (i + 0.5) / tube->n);
        tube->area_cm2[i] *= exp(change);
    }
}

void synth_tube_add_branch(synth_tube *tube, double zero_hz, double area_cm2)
{
    tube->branch_section = (int)(2.0 / tube->section_cm);
    tube->branch_cm = tube->sound_cm_per_s / (4.0 * zero_hz);
    tube->branch_cm2 = area_cm2;
}

synth_tube synth_tube_between(const synth_tube *a, const synth_tube *b, double x)
{
    synth_tube tube = *a;

    tube.section_cm = ((1.0 - x) * synth_tube_length_cm(a) + x * synth_tube_length_cm(b)) / a->n;
    for (int i = 0; i < a->n; i++) {
        double at = (i + 0.5) / a->n * b->n - 0.5;
        int j = CLAMP((int)floor(at), 0, b->n - 2);
        double step = CLAMP(at - j, 0.0, 1.0);
        double target = (1.0 - step) * log(b->area_cm2[j]) + step * log(b->area_cm2[j + 1]);

        tube.area_cm2[i] = exp((1.0 - x) * log(a->area_cm2[i]) + x * target);
    }
    return tube;
}

/* ---- the chain ------------------------------------------------------------------------------------------------- */

typedef struct {
    double complex denominator;
    double complex branch; /* numerator: what the side branch lets pass */
} chain;

/* Pressure over flow at the lips, in units of (density times speed of sound). loss scales the radiated power. */
static double complex lip_load(const synth_tube *tube, double complex s, double loss)
{
    double area = tube->area_cm2[tube->n - 1];
    double complex mass = s / tube->sound_cm_per_s * 8.0 * sqrt(area / G_PI) / (3.0 * G_PI) / area;
    double resistance = 128.0 / (9.0 * G_PI * G_PI) / area;

    if (tube->ideal_lips)
        return 0.0;
    return mass / (1.0 + loss * mass / resistance); /* both side by side; without loss, the mass alone */
}

/* Flow into the glottis per pressure, in the same units. Resistance of a slit and of its kinetic loss, and its mass. */
static double complex glottis_admittance(const synth_tube *tube, double complex s, double loss)
{
    double area = tube->glottis_cm2;
    double rho_c = AIR_G_PER_CM3 * tube->sound_cm_per_s;

    if (area <= 0.0)
        return 0.0;
    double viscous =
        12.0 * AIR_VISCOSITY * GLOTTIS_LENGTH_CM * GLOTTIS_LENGTH_CM * GLOTTIS_THICK_CM / (area * area * area);
    double kinetic = sqrt(2.0 * AIR_G_PER_CM3 * LUNG_DYN_PER_CM2) / area;
    double complex mass = s * AIR_G_PER_CM3 * GLOTTIS_THICK_CM / area;

    return loss * rho_c / (viscous + kinetic + mass);
}

/* From pressure and flow at the lips back to the glottis. loss 0..1 is the share of all losses that is switched on. */
static chain chain_at(const synth_tube *tube, double complex s, double loss)
{
    double walls = tube->lossless ? 0.0 : loss;
    double complex alpha = walls * csqrt(s * FRICTION_PER_S);
    double complex beta =
        alpha + walls * s * WALL_COUPLING_PER_S2 / ((s + WALL_DAMPING_PER_S) * s + WALL_STIFFNESS_PER_S2);
    double complex root = csqrt((alpha + s) / (beta + s));
    double complex sigma = root * (beta + s) / tube->sound_cm_per_s;
    double complex ch = ccosh(sigma * tube->section_cm);
    double complex sh = csinh(sigma * tube->section_cm);
    double complex sh_up = sh * root, sh_down = sh / root;
    double complex pressure = lip_load(tube, s, loss), flow = 1.0, branch = 1.0;

    for (int i = tube->n - 1; i >= 0; i--) {
        double complex p = ch * pressure + sh_up / tube->area_cm2[i] * flow;

        flow = tube->area_cm2[i] * sh_down * pressure + ch * flow;
        pressure = p;
        if (tube->branch_cm > 0.0 && i == tube->branch_section) {
            branch = ccosh(sigma * tube->branch_cm);
            flow = flow * branch + tube->branch_cm2 * csinh(sigma * tube->branch_cm) / root * pressure;
            pressure *= branch;
        }
    }
    return (chain){flow + glottis_admittance(tube, s, loss) * pressure, branch};
}

double complex synth_tube_denominator(const synth_tube *tube, double complex s)
{
    return chain_at(tube, s, 1.0).denominator;
}

double complex synth_tube_gain(const synth_tube *tube, double complex s)
{
    chain at = chain_at(tube, s, 1.0);

    return at.branch / at.denominator;
}

/* ---- poles ----------------------------------------------------------------------------------------------------- */

#define SEARCH_STEP_HZ 2.0 /* no two resonances of a lossless tract lie that near */
#define LOSS_STEP      (1.0 / 16.0)
#define LOSS_STEP_MIN  (1.0 / 65536.0)
#define LEAP_HZ        20.0  /* a pole that moves further in one step of loss may be another one: take a smaller step */
#define LOSS_SHIFT_HZ  400.0 /* losses and lip load move no resonance further than that */

static double lossless_at(const synth_tube *tube, double hz)
{
    return creal(chain_at(tube, 2.0 * G_PI * hz * I, 0.0).denominator);
}

static double bisect_lossless(const synth_tube *tube, double low_hz, double high_hz)
{
    double low = lossless_at(tube, low_hz);

    for (int i = 0; i < 50; i++) {
        double mid_hz = 0.5 * (low_hz + high_hz), mid = lossless_at(tube, mid_hz);

        if (low * mid <= 0.0) {
            high_hz = mid_hz;
        } else {
            low_hz = mid_hz;
            low = mid;
        }
    }
    return 0.5 * (low_hz + high_hz);
}

static double complex newton(const synth_tube *tube, double complex s, double loss)
{
    const double step = 1e-3; /* rad/s, for the central difference */

    for (int i = 0; i < 40; i++) {
        double complex slope =
            (chain_at(tube, s + step, loss).denominator - chain_at(tube, s - step, loss).denominator) / (2.0 * step);
        double complex change = chain_at(tube, s, loss).denominator / slope;

        s -= change;
        if (cabs(change) < 1e-6)
            break;
    }
    return s;
}

/* Follows a lossless pole while the losses grow. */
static double complex follow(const synth_tube *tube, double complex s)
{
    double loss = 0.0, step = LOSS_STEP;

    while (loss < 1.0) {
        double next = MIN(1.0, loss + step);
        double complex moved = newton(tube, s, next);

        if (cabs(moved - s) > 2.0 * G_PI * LEAP_HZ && step > LOSS_STEP_MIN) {
            step *= 0.5;
            continue;
        }
        s = moved;
        loss = next;
        step = MIN(LOSS_STEP, 1.5 * step);
    }
    return s;
}

/* Losses can carry a strongly damped pole past its neighbour. */
static int by_frequency(const void *a, const void *b)
{
    double difference_hz = ((const synth_resonance *)a)->hz - ((const synth_resonance *)b)->hz;

    return (difference_hz > 0.0) - (difference_hz < 0.0);
}

int synth_tube_resonances(const synth_tube *tube, double top_hz, synth_resonance resonances[SYNTH_RESONANCES_MAX])
{
    int n = 0;
    double before = lossless_at(tube, 1.0);

    for (double hz = 1.0 + SEARCH_STEP_HZ; hz < top_hz + LOSS_SHIFT_HZ && n < SYNTH_RESONANCES_MAX;
         hz += SEARCH_STEP_HZ) {
        double here = lossless_at(tube, hz);

        if (before * here <= 0.0) {
            double complex s = follow(tube, 2.0 * G_PI * bisect_lossless(tube, hz - SEARCH_STEP_HZ, hz) * I);

            if (cimag(s) < 2.0 * G_PI * top_hz)
                resonances[n++] = (synth_resonance){cimag(s) / (2.0 * G_PI), -creal(s) / G_PI};
        }
        before = here;
    }
    qsort(resonances, (size_t)n, sizeof *resonances, by_frequency);
    return n;
}

synth_tract *synth_tube_tract(const synth_tube *tube, double top_hz)
{
    synth_tract *tract = synth_tract_new(top_hz);

    for (int i = 0; i < tract->n_bins; i++) /* at 0 Hz the wall terms are 0/0; the limit is taken a hair above */
        tract->gain[i] = synth_tube_gain(tube, 2.0 * G_PI * MAX(i * SYNTH_TRACT_STEP_HZ, 1e-3) * I);
    tract->n_resonances = synth_tube_resonances(tube, top_hz, tract->resonances);
    return tract;
}
