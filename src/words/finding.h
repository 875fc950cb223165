/* finding.h - a rule's words, for those who tell several findings together. */
#ifndef WORDS_FINDING_H
#define WORDS_FINDING_H

#include "advice/facts.h"
#include "advice/placeholder.h"

#include <aperta/words.h>

/* A quantity's value as a person reads it: "about 437 Hz", "9.3 semitones below". The caller frees. */
char *words_quantity(const advice_facts *facts, const advice_quantity *quantity);
/* aperta_finding_text with other words for how the shape is made. The caller frees. */
char *words_finding(const aperta_finding *finding, const char *how);
/* Whether both say the same in brief of what is the matter. */
gboolean words_same_matter(const aperta_finding *one, const aperta_finding *other);
/* Whether the words tell how the shape is made. */
gboolean words_finding_holds_how(const aperta_finding *finding);
/* "On C5 ...", that pitch: who they are told for need not be told with it. */
gboolean words_finding_begins_with_pitch(const aperta_finding *finding, const char *pitch);

#endif
