/* sheet-fixture.h - made-up scores in memory for the tests of words under notes and of sheets. */
#ifndef SHEET_FIXTURE_H
#define SHEET_FIXTURE_H

#include <aperta/score.h>

/* Notes separated by blanks, PITCH:QUARTERS[:LYRIC[:LYRIC of verse 2 ...]]; "r:2" is a rest; QUARTERS 0 is a grace
 * note. A lyric that ends in "-" goes on, one that begins with "-" goes on from before, "+" joins two lyrics of an
 * elision, "" is none. 120 quarters a minute, bars of four quarters, no key signature. */
aperta_score *fixture_score(const char *notes);

#endif
