/* sing.h - words typed as "lit-tle star," through a diction. */
#ifndef TESTS_SING_H
#define TESTS_SING_H

#include <aperta/diction.h>

/* Sounds of a line: blanks part words, "-" parts syllables. The caller unrefs. */
GArray *sing_line(aperta_diction *diction, const char *line);

typedef enum {
    SING_IPA,    /* "ˈlɪ.təl ˈstɑɹ" */
    SING_NUCLEI, /* "ɪ.ə ɑ"; an off-glide in brackets "a(ɪ)"; "?" where there is none */
    SING_JUDGED, /* "ɪ.ʌ ɑ" */
} sing_shown;

/* The line as it is sung, words parted by blanks. The caller frees. */
char *sing_shown_line(aperta_diction *diction, const char *line, sing_shown shown);

#endif
