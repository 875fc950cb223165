/* sheet-of.h - the sheet of a made-up score; American English and a woman's voice unless told otherwise. */
#ifndef SHEET_OF_H
#define SHEET_OF_H

#include "expect.h"
#include "result/sheet-private.h"
#include "sheet-fixture.h"

#include <aperta/result.h>

static inline aperta_sheet *sheet_of(const char *notes, aperta_sheet_options options)
{
    g_autoptr(GError) error = NULL;

    if (options.language == NULL)
        options.language = "en-US";
    if (options.voice == APERTA_VOICE_UNKNOWN)
        options.voice = APERTA_VOICE_WOMAN;
    aperta_sheet *sheet = sheet_of_score(fixture_score(notes), &options, &error);
    if (sheet == NULL)
        fail_msg("%s", error->message);
    return sheet;
}

#endif
