/* status.c - whether a resonance is measured, bounded or unknown, by what a posterior says of it; the same for all who
 * have one. */
#include "tract/tract-private.h"
#include "tract/tract-tuning.h"

aperta_status tract_status(int i, double interval_ratio, double f1_below_f0)
{
    if (i == 0) /* however wide: its interval is narrow enough, or reaches below f0 */
        return f1_below_f0 > TRACT_BOUNDED_SHARE ? APERTA_BOUNDED : APERTA_MEASURED;
    return interval_ratio > TRACT_KNOWN_RATIO ? APERTA_UNKNOWN : APERTA_MEASURED;
}
