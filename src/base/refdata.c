/* refdata.c - finds the reference data and the helper programs without being told. */
#ifndef _GNU_SOURCE
#define _GNU_SOURCE /* dladdr */
#endif
#include <aperta/base.h>

#include <dlfcn.h>
#include <string.h>

/* Folder of the file that holds this code: the shared library, or a test program that links it whole. */
static char *own_folder(void)
{
    Dl_info info;

    if (dladdr((void *)aperta_refdata_dir, &info) == 0 || info.dli_fname == NULL)
        return NULL;
    g_autofree char *file = g_canonicalize_filename(info.dli_fname, NULL);
    return g_path_get_dirname(file);
}

static gboolean below(const char *folder, const char *root)
{
    gsize n = strlen(root);

    return strncmp(folder, root, n) == 0 && (folder[n] == '\0' || folder[n] == G_DIR_SEPARATOR);
}

/* lib/libaperta.so or lib/<triplet>/libaperta.so, moved together with its prefix: the folder that lies beside lib. */
static char *beside(const char *folder, const char *kind)
{
    static const char *const ups[] = {"..", "../.."};

    for (gsize i = 0; folder != NULL && i < G_N_ELEMENTS(ups); i++) {
        g_autofree char *joined = g_build_filename(folder, ups[i], kind, "aperta", NULL);
        if (g_file_test(joined, G_FILE_TEST_IS_DIR))
            return g_canonicalize_filename(joined, NULL);
    }
    return NULL;
}

static char *find(const char *kind, const char *uninstalled, const char *installed)
{
    g_autofree char *folder = own_folder();

    if (folder != NULL && below(folder, APERTA_BUILD_DIR))
        return g_strdup(uninstalled);
    char *found = beside(folder, kind);
    return found != NULL ? found : g_strdup(installed);
}

const char *aperta_refdata_dir(void)
{
    static char *dir; /* set once, then only read */

    if (g_once_init_enter(&dir)) {
        char *found = find("share", APERTA_SOURCE_REFDATA, APERTA_DATADIR);
        g_once_init_leave(&dir, found);
    }
    return dir;
}

const char *aperta_libexec_dir(void)
{
    static char *dir; /* set once, then only read */

    if (g_once_init_enter(&dir)) {
        char *found = find("libexec", APERTA_BUILD_DIR, APERTA_LIBEXECDIR);
        g_once_init_leave(&dir, found);
    }
    return dir;
}
