/* musicxml-private.h - what the files of the MusicXML reader share. */
#ifndef MUSICXML_PRIVATE_H
#define MUSICXML_PRIVATE_H

#include "score/score-private.h"
#include "score/score-tuning.h"

#include <libxml/tree.h>

/* What <attributes> says of one staff. */
typedef struct {
    int fifths; /* as written */
    gboolean minor;
    gboolean key_known;
    int chromatic, diatonic, octaves; /* <transpose>: from the written to the sounding pitch */
    gboolean diatonic_known;
} musicxml_staff;

/* Where the reading of a part stands. */
typedef struct {
    score_part *part;
    guint n_bars;
    guint bar;           /* index of the current one */
    double divisions;    /* 0: not yet said */
    double cursor;       /* quarters from the beginning of the bar */
    gboolean last_known; /* is there a note in this bar that a <chord/> would join? */
    double last_start;   /* of that note; the next two likewise */
    gboolean last_kept;
    gboolean chord_counted;
    guint home_staff[SCORE_VOICES_MAX]; /* of each voice of the part */
    musicxml_staff staves[SCORE_STAVES_MAX];
} musicxml_part;

typedef struct {
    char *number, *name; /* of the lyric line; NULL: all */
    char *language;
} musicxml_language;

typedef struct {
    score_draft *draft;
    GArray *languages; /* musicxml_language */
    GHashTable *parts; /* id → musicxml_part */
    musicxml_part *at;
    guint n_measures;        /* timewise: begun so far */
    char *movement, *credit; /* titles met */
} musicxml_reading;

/* ---- nodes (musicxml-nodes.c) ------------------------------------------------------------------------------------ */

gboolean musicxml_is(const xmlNode *node, const char *name);
const xmlNode *musicxml_child(const xmlNode *node, const char *name);
/* The text of a node, blanks at the ends cut or (raw) as it stands; never NULL. An entity that the file does not know
 * is shown as a replacement sign, and counted in part, which may be NULL. */
char *musicxml_text(const xmlNode *node, score_part *part);
char *musicxml_raw_text(const xmlNode *node, score_part *part);
char *musicxml_child_text(const xmlNode *node, const char *name); /* NULL: no such child */
char *musicxml_attribute(const xmlNode *node, const char *name);  /* as score_cut_name() has it; NULL: none, or empty */
gboolean musicxml_child_number(const xmlNode *node, const char *name, double *value);
/* The staff that a node's text or attribute names, from 0. */
guint musicxml_staff_index(const char *text);

/* Divisions → quarters. */
double musicxml_quarters(const musicxml_part *part, double duration);
/* Moves on (or back) and lets the bar grow. */
void musicxml_move(musicxml_reading *reading, double quarters);

/* ---- the elements ------------------------------------------------------------------------------------------------ */

void musicxml_note(musicxml_reading *reading, const xmlNode *node); /* musicxml-note.c */
/* musicxml-header.c: a child of the root before the music, and what stands between the notes */
void musicxml_header(musicxml_reading *reading, const xmlNode *node);
void musicxml_attributes(musicxml_reading *reading, const xmlNode *node);
void musicxml_direction(musicxml_reading *reading, const xmlNode *node);
void musicxml_sound(musicxml_reading *reading, const xmlNode *node, double offset);
/* Quarters of a note value ("eighth") with dots; 0: unknown. */
double musicxml_note_value(const char *type, int dots);
void musicxml_barline(musicxml_reading *reading, const xmlNode *node);
int musicxml_sounding_fifths(const musicxml_staff *staff);
/* Title and the like are complete when all is read. */
void musicxml_finish_header(musicxml_reading *reading);

#endif
