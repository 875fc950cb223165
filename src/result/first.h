/* first.h - what to try first, in a take and on a sheet. */
#ifndef RESULT_FIRST_H
#define RESULT_FIRST_H

#include "advice/facts.h"

#include <aperta/result.h>

/* Fill first, once the groups are found. */
void result_find_first(aperta_result *result);
void result_find_first_on_sheet(aperta_sheet *sheet);
/* The nearest shape that is worth trying; NULL: the finding has none. */
const aperta_shape *result_first_step(const aperta_finding *finding);
/* The pitch of its lowest note, midi. */
int result_try_lowest(const aperta_try *one);
int result_try_lowest_on_sheet(const aperta_try *one);

#endif
