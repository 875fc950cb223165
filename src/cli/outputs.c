/* outputs.c - the files a command writes: planned and checked before the work, written after it. */
#include "cli-private.h"

#include <aperta/report.h>

#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <unistd.h>

typedef struct {
    int kind;    /* of the command's own */
    guint index; /* of the file it belongs to */
    char *path;
    char *folder; /* to be made first; NULL: must be there already */
} output;

struct cli_outputs {
    GPtrArray *list; /* output */
    char *root;      /* the folder of --out; NULL: none */
    int lock;        /* on it, kept until all is written; -1: none */
};

static void output_free(output *one)
{
    g_free(one->path);
    g_free(one->folder);
    g_free(one);
}

/* ---- the plan ---------------------------------------------------------------------------------------------------- */

cli_outputs *cli_outputs_new(void)
{
    cli_outputs *outputs = g_new0(cli_outputs, 1);

    outputs->list = g_ptr_array_new_with_free_func((GDestroyNotify)output_free);
    outputs->lock = -1;
    return outputs;
}

static void plan(cli_outputs *outputs, int kind, guint index, const char *path, const char *folder)
{
    output *one = g_new0(output, 1);

    *one = (output){.kind = kind, .index = index, .path = g_strdup(path), .folder = g_strdup(folder)};
    g_ptr_array_add(outputs->list, one);
}

void cli_outputs_add(cli_outputs *outputs, int kind, const char *path)
{
    if (path != NULL)
        plan(outputs, kind, 0, path, NULL);
}

/* "lesson/take3.wav" -> "take3". What is left of "...wav" would lead out of the folder, so it gets a name of ours. */
static char *stem_of(const char *file)
{
    char *stem = g_path_get_basename(file);
    char *dot = strrchr(stem, '.');

    if (dot != NULL && dot != stem)
        *dot = '\0';
    if (stem[strspn(stem, "." G_DIR_SEPARATOR_S)] != '\0')
        return stem;
    g_free(stem);
    return g_strdup("unnamed");
}

/* The stem of the file, "take3"; "take3-2" when an earlier file has that name already. */
static char *folder_name(const char *file, GHashTable *taken)
{
    g_autofree char *stem = stem_of(file);
    char *name = g_strdup(stem);
    for (guint copy = 2; g_hash_table_contains(taken, name); copy++) {
        g_free(name);
        name = g_strdup_printf("%s-%u", stem, copy);
    }
    g_hash_table_add(taken, g_strdup(name));
    return name;
}

void cli_outputs_add_folder(cli_outputs *outputs, const char *folder, const cli_kept *kept, gsize n_kept,
                            char *const *files)
{
    g_autoptr(GHashTable) taken = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);

    outputs->root = g_strdup(folder);
    for (guint index = 0; folder != NULL && files[index] != NULL; index++) {
        g_autofree char *name = files[1] != NULL ? folder_name(files[index], taken) : NULL;
        g_autofree char *own = g_build_filename(folder, name, NULL);
        for (gsize i = 0; i < n_kept; i++) {
            g_autofree char *path = g_build_filename(own, kept[i].name, NULL);
            plan(outputs, kept[i].kind, index, path, own);
        }
    }
}

void cli_outputs_add_overview(cli_outputs *outputs, const char *folder, const char *name, char *const *files)
{
    guint n_files = g_strv_length((char **)files);

    if (folder == NULL || n_files < 2)
        return;
    g_autofree char *path = g_build_filename(folder, name, NULL);
    plan(outputs, 0, n_files, path, folder);
}

void cli_outputs_free(cli_outputs *outputs)
{
    if (outputs == NULL)
        return;
    if (outputs->lock >= 0) {
        cli_interrupt_remove(NULL);
        g_rmdir(outputs->root); /* where nothing came of it; fails where something did */
        close(outputs->lock);
    }
    g_ptr_array_unref(outputs->list);
    g_free(outputs->root);
    g_free(outputs);
}

/* ---- checks before the work -------------------------------------------------------------------------------------- */

/* What is known of the places that were looked at. */
typedef struct {
    GHashTable *inputs;  /* identities of the files that are read */
    GHashTable *planned; /* identities of the outputs so far */
    GHashTable *probed;  /* folder -> does it take files? */
} survey;

/* Two names of one file, be it there or not, have one identity. Devices such as /dev/null may serve twice and have
 * none: NULL. */
static char *identity_of(const char *path)
{
    GStatBuf at;

    if (g_stat(path, &at) != 0)
        return g_canonicalize_filename(path, NULL);
    if (!S_ISREG(at.st_mode))
        return NULL;
    return g_strdup_printf("%" G_GUINT64_FORMAT ":%" G_GUINT64_FORMAT, (guint64)at.st_dev, (guint64)at.st_ino);
}

static GHashTable *identity_set(const char *const *paths)
{
    GHashTable *set = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);

    for (; *paths != NULL; paths++) {
        char *identity = identity_of(*paths);
        if (identity != NULL)
            g_hash_table_add(set, identity);
    }
    return set;
}

static void survey_clear(survey *known)
{
    g_hash_table_unref(known->inputs);
    g_hash_table_unref(known->planned);
    g_hash_table_unref(known->probed);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(survey, survey_clear)

static void survey_init(survey *known, const char *const *inputs)
{
    static const char *const none[] = {NULL};

    known->inputs = identity_set(inputs);
    known->planned = identity_set(none);
    known->probed = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
}

/* The folder itself, or the nearest one above it that exists, be it as a link that leads nowhere. */
static char *existing_folder(const char *folder)
{
    char *at = g_strdup(folder);

    while (!g_file_test(at, G_FILE_TEST_EXISTS) && !g_file_test(at, G_FILE_TEST_IS_SYMLINK)) {
        char *above = g_path_get_dirname(at);
        g_free(at);
        at = above;
    }
    return at;
}

/* Some places look writable and are not (/proc), so a folder is made there and taken away again. */
static gboolean takes_files(survey *known, const char *folder)
{
    gpointer takes;

    if (!g_hash_table_lookup_extended(known->probed, folder, NULL, &takes)) {
        g_autofree char *probe = g_build_filename(folder, ".aperta-XXXXXX", NULL);
        takes = GINT_TO_POINTER(g_mkdtemp(probe) != NULL && g_rmdir(probe) == 0);
        g_hash_table_insert(known->probed, g_strdup(folder), takes);
    }
    return GPOINTER_TO_INT(takes);
}

/* What is written has for a moment six letters and a dot more to its name (write.c). */
static gboolean is_too_long(const char *path)
{
    g_autofree char *name = g_path_get_basename(path);
    g_autofree char *longer = g_strdup_printf("%s.XXXXXX", path);
    GStatBuf info;

    return strlen(name) + strlen(".XXXXXX") > NAME_MAX || (g_stat(longer, &info) != 0 && errno == ENAMETOOLONG);
}

static const char *objection_to_folder(survey *known, const char *folder)
{
    g_autofree char *existing = existing_folder(folder);

    if (g_file_test(existing, G_FILE_TEST_IS_SYMLINK) && !g_file_test(existing, G_FILE_TEST_EXISTS))
        return "is a link that leads nowhere (choose another place)";

    if (!g_file_test(existing, G_FILE_TEST_IS_DIR))
        return strcmp(existing, folder) == 0 ? "is a file, not a folder (choose another place)"
                                             : "lies in something that is not a folder (choose another place)";
    if (takes_files(known, existing))
        return NULL;
    return strcmp(existing, folder) == 0 ? "nothing can be written into this folder (choose another place)"
                                         : "the folder cannot be made (choose another place)";
}

static const char *objection_to_file(survey *known, const char *path)
{
    if (is_too_long(path))
        return "its name is too long (choose a shorter one)";
    if (g_file_test(path, G_FILE_TEST_IS_DIR))
        return "is a folder, not a file (give a file name)";
    gboolean exists = g_file_test(path, G_FILE_TEST_EXISTS);
    if (exists && g_access(path, W_OK) != 0)
        return "cannot be written (is it protected?)";
    if (exists && !g_file_test(path, G_FILE_TEST_IS_REGULAR))
        return NULL;                                     /* a device or a pipe: written to as it is */
    char *target = exists ? realpath(path, NULL) : NULL; /* a file is replaced where it is, not where a link to it is */
    g_autofree char *folder = g_path_get_dirname(target != NULL ? target : path);
    free(target);
    if (!g_file_test(folder, G_FILE_TEST_EXISTS))
        return "its folder does not exist (make it first)";
    if (!g_file_test(folder, G_FILE_TEST_IS_DIR))
        return "its folder is not a folder (choose another place)";
    return takes_files(known, folder) ? NULL : "its folder cannot be written to (choose another place)";
}

static const char *objection_to_identity(survey *known, const char *path)
{
    g_autofree char *identity = identity_of(path);

    if (identity == NULL)
        return NULL;
    if (g_hash_table_contains(known->inputs, identity))
        return "is also read, and would be overwritten (choose another name for the output)";
    return g_hash_table_add(known->planned, g_steal_pointer(&identity))
               ? NULL
               : "would be written twice (choose another name for one of the outputs)";
}

/* Tells what stands against an output as far as one can know beforehand; FALSE when something does. */
static gboolean accept(survey *known, const output *one)
{
    const char *about = one->folder;
    const char *why = one->folder == NULL      ? NULL
                      : is_too_long(one->path) ? "its name is too long (choose a shorter one)"
                                               : objection_to_folder(known, one->folder);

    if (why == NULL) {
        about = one->path;
        if (one->folder == NULL || g_file_test(one->path, G_FILE_TEST_EXISTS))
            why = objection_to_file(known, one->path);
    }
    if (why == NULL)
        why = objection_to_identity(known, one->path);
    if (why != NULL)
        cli_complain(about, why);
    return why == NULL;
}

gboolean cli_outputs_check(const cli_outputs *outputs, const char *const *inputs)
{
    g_auto(survey) known;

    survey_init(&known, inputs);
    for (guint i = 0; i < outputs->list->len; i++)
        if (!accept(&known, g_ptr_array_index(outputs->list, i)))
            return FALSE;
    return TRUE;
}

/* ---- one writer a folder ----------------------------------------------------------------------------------------- */

static gboolean refuse_root(const cli_outputs *outputs, const char *why)
{
    cli_complain(outputs->root, why);
    return FALSE;
}

gboolean cli_outputs_lock(cli_outputs *outputs)
{
    if (outputs->root == NULL)
        return TRUE;
    gboolean is_new = !g_file_test(outputs->root, G_FILE_TEST_EXISTS);
    if (g_mkdir_with_parents(outputs->root, 0777) != 0)
        return refuse_root(outputs, "the folder cannot be made (choose another place)");
    if (is_new)
        cli_interrupt_remove(outputs->root);
    int lock = open(outputs->root, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (lock >= 0 && flock(lock, LOCK_EX | LOCK_NB) != 0 && errno == EWOULDBLOCK) {
        close(lock);
        return refuse_root(outputs, "another run is writing into this folder (wait until it ends, or choose another)");
    }
    outputs->lock = lock; /* some file systems know no locks: then there is none */
    return TRUE;
}

/* What a run that was killed has left of a file, "report.txt.XXXXXX": nobody else writes here. */
static void remove_leftovers(const output *one)
{
    g_autofree char *name = g_path_get_basename(one->path);
    GDir *dir = g_dir_open(one->folder, 0, NULL);
    gsize n = strlen(name);

    for (const char *left; dir != NULL && (left = g_dir_read_name(dir)) != NULL;) {
        if (strlen(left) != n + strlen(".XXXXXX") || strncmp(left, name, n) != 0 || left[n] != '.' ||
            strspn(left + n + 1, G_CSET_A_2_Z G_CSET_a_2_z G_CSET_DIGITS) != strlen("XXXXXX"))
            continue;
        g_autofree char *path = g_build_filename(one->folder, left, NULL);
        g_unlink(path);
    }
    g_clear_pointer(&dir, g_dir_close);
}

/* ---- writing ----------------------------------------------------------------------------------------------------- */

typedef struct {
    const output *one;
    GBytes *bytes;
} rendered;

static void rendered_clear(gpointer data)
{
    g_bytes_unref(((rendered *)data)->bytes);
}

static gboolean write_one(const rendered *file, GError **error)
{
    const output *one = file->one;
    gsize n;
    const void *bytes = g_bytes_get_data(file->bytes, &n);

    if (one->folder != NULL && g_mkdir_with_parents(one->folder, 0777) != 0) {
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_UNWRITABLE,
                    "%s: the folder cannot be made (choose another place)", one->folder);
        return FALSE;
    }
    if (one->folder != NULL)
        remove_leftovers(one);
    return aperta_report_write(one->path, bytes, n, error);
}

/* All that belongs to file number index; NULL when one cannot be rendered, which is complained about. */
static GArray *render_all(const cli_outputs *outputs, guint index, cli_render render, void *data)
{
    g_autoptr(GArray) files = g_array_new(FALSE, FALSE, sizeof(rendered));

    g_array_set_clear_func(files, rendered_clear);
    for (guint i = 0; i < outputs->list->len; i++) {
        const output *one = g_ptr_array_index(outputs->list, i);
        g_autoptr(GError) error = NULL;
        if (one->index != index)
            continue;
        rendered file = {one, render(one->kind, one->path, data, &error)};
        if (file.bytes != NULL) {
            g_array_append_val(files, file);
        } else if (error != NULL) {
            cli_complain(one->path, error->message);
            return NULL;
        }
    }
    return g_steal_pointer(&files);
}

gboolean cli_outputs_write(const cli_outputs *outputs, guint index, cli_render render, void *data)
{
    g_autoptr(GArray) files = render_all(outputs, index, render, data);
    gboolean good = files != NULL;

    cli_interrupt_at_once(NULL); /* what is begun now is written whole */

    for (guint i = 0; files != NULL && i < files->len; i++) {
        const rendered *file = &g_array_index(files, rendered, i);
        g_autoptr(GError) error = NULL;
        if (write_one(file, &error))
            continue;
        cli_complain(file->one->folder != NULL ? file->one->folder : file->one->path, error->message);
        good = FALSE;
        if (file->one->folder != NULL)
            break; /* the others would fail for the same reason */
    }
    return good;
}

GBytes *cli_bytes(char *text)
{
    return text != NULL ? g_bytes_new_take(text, strlen(text)) : NULL;
}

GBytes *cli_picture(char *svg, const char *path, GError **error)
{
    g_autofree char *drawing = svg;
    aperta_picture kind;

    if (drawing == NULL || !aperta_report_picture_kind(path, &kind))
        return NULL;
    return aperta_report_picture(drawing, kind, error);
}
