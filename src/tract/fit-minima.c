/* fit-minima.c - minima kept sorted and different. */
#include "tract/fit-minima.h"

#include <aperta/base.h>
#include <math.h>
#include <string.h>

#include "tract/fit-tuning.h"

static gboolean alike(const fit_minimum *a, const fit_minimum *b)
{
    for (int i = 0; i < APERTA_N_RESONANCES; i++)
        if (fabs(log(a->f_hz[i] / b->f_hz[i])) > FIT_ALIKE)
            return FALSE;
    return TRUE;
}

void fit_minima_keep(fit_minima *minima, int most, const fit_minimum *found)
{
    fit_minimum *of = minima->of;
    for (int i = 0; i < minima->n; i++)
        if (alike(&of[i], found)) {
            if (of[i].chi2 <= found->chi2)
                return;
            memmove(&of[i], &of[i + 1], sizeof *of * (gsize)(minima->n - 1 - i));
            minima->n--;
            break;
        }
    int place = minima->n;
    while (place > 0 && of[place - 1].chi2 > found->chi2)
        place--;
    if (place >= most)
        return;
    minima->n = MIN(minima->n + 1, most);
    memmove(&of[place + 1], &of[place], sizeof *of * (gsize)(minima->n - 1 - place));
    of[place] = *found;
}
