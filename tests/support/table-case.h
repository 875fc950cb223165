/* table-case.h - a vowel table of the project for tests that need one. */
#ifndef TESTS_TABLE_CASE_H
#define TESTS_TABLE_CASE_H

#include "expect.h"

#include <aperta/vowel.h>

/* Freed by the caller; a test without it fails. */
static inline aperta_vowel_table *case_table(const char *name)
{
    GError *error = NULL;
    aperta_vowel_table *table = aperta_vowel_table_load(name, &error);

    if (table == NULL)
        fail_msg("%s", error->message);
    return table;
}

#endif
