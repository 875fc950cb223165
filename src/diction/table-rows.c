/* table-rows.c - the tables of this folder: lines of fields between tabs, with remarks behind '#'. */
#include "base/user-file.h"
#include "diction/diction-private.h"
#include "diction/diction-tuning.h"

char *diction_refdata_path(const char *name)
{
    return g_build_filename(aperta_refdata_dir(), "diction", name, NULL);
}

static const base_file_kind words_file = {.noun = "words file",
                                          .mb_max = WORDS_FILE_MB_MAX,
                                          .what_to_do = "name a list of words, see aperta-words(5)",
                                          .kept = TRUE};

gboolean diction_table_read(const char *path, diction_row_func row, gpointer data, GError **error)
{
    g_autofree char *text = base_text_read(path, &words_file, error);
    if (text == NULL)
        return FALSE;
    g_auto(GStrv) lines = g_strsplit(text, "\n", -1);

    for (guint i = 0; lines[i] != NULL; i++) {
        g_strchomp(lines[i]);
        if (lines[i][0] == '\0' || lines[i][0] == '#')
            continue;
        g_auto(GStrv) fields = g_strsplit(lines[i], "\t", -1);
        g_autofree char *place = g_strdup_printf("%s:%u", path, i + 1);
        for (char **field = fields; *field != NULL; field++)
            g_strstrip(*field);
        if (!row(fields, g_strv_length(fields), place, data, error))
            return FALSE;
    }
    return TRUE;
}
