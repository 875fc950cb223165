/* report-fixture.h - made-up takes for the tests of the renderers. Nothing in them was measured. */
#ifndef TESTS_UNIT_REPORT_FIXTURE_H
#define TESTS_UNIT_REPORT_FIXTURE_H

#include <aperta/result.h>

/* Twelve notes of a woman in A♭ major: flagged ones, a limit instead of an F1, a note that cannot be told, a glide, an
 * accompanied note, a correction, warnings. */
aperta_result *fixture_take(gboolean explained);
/* The same settings and no notes. */
aperta_result *fixture_silence(void);
/* n notes scattered over the vowel space, every third or so flagged; the same at each call. */
aperta_result *fixture_crowd(guint n);

#endif
