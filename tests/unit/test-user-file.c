/* test-user-file.c - the one reader of a user's files: limits, pipes, devices, what is no text. */
#include "expect.h"

#include "base/user-file.h"

#include <glib/gstdio.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

enum { MB = 1 << 20 };

static const base_file_kind list = {"list", 1, "shorten it", FALSE};
static const base_file_kind book = {"book", 1, "shorten it", TRUE};

static char *folder;

static int make_folder(void **state)
{
    (void)state;
    folder = g_dir_make_tmp("user-file-XXXXXX", NULL);
    return folder == NULL;
}

static int remove_folder(void **state)
{
    (void)state;
    g_rmdir(folder);
    g_free(folder);
    return 0;
}

static char *write_file(const char *bytes, gssize n)
{
    char *path = g_build_filename(folder, "list.txt", NULL);

    assert_true(g_file_set_contents(path, bytes, n, NULL));
    return path;
}

static void expect_text(const char *bytes, gssize n, const char *expected)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *path = write_file(bytes, n);
    g_autofree char *text = base_text_read(path, &list, &error);

    if (text == NULL)
        fail_msg("%s", error->message);
    assert_string_equal(text, expected);
    g_unlink(path);
}

/* says: what follows the path in the message. */
static void expect_refused(const char *path, const base_file_kind *kind, aperta_error code, const char *says)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *expected = g_strconcat(path, says, NULL);

    assert_null(base_text_read(path, kind, &error));
    assert_string_equal(error->message, expected);
    assert_true(g_error_matches(error, APERTA_ERROR, (int)code));
}

static void test_text(void **state)
{
    (void)state;
    expect_text("", 0, "");
    expect_text("ee\n", -1, "ee\n");
    expect_text("\xef\xbb\xbf"
                "ee\n",
                -1, "ee\n");
}

static void test_bytes_have_an_end(void **state)
{
    gsize n = 0;
    g_autofree char *path = write_file("a\0b", 3);
    g_autofree char *bytes = base_file_read(path, &list, &n, NULL);
    (void)state;

    assert_non_null(bytes);
    assert_int_equal(n, 3);
    assert_memory_equal(bytes, "a\0b", 4);
    g_unlink(path);
}

static void test_no_text(void **state)
{
    static const struct {
        const char *bytes;
        gssize n;
        const char *place;
    } rows[] = {{"\xff\xfe"
                 "e\0",
                 4, ":1:1"},
                {"moon\nm\xc3\xbc\xfc\n", -1, ":2:3"},
                {"ee\n\0\n", 5, ":2:1"}};
    (void)state;

    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        g_autofree char *path = write_file(rows[i].bytes, rows[i].n);
        g_autofree char *says =
            g_strconcat(rows[i].place, ": expected text in UTF-8, found other bytes (save it as UTF-8)", NULL);
        expect_refused(path, &list, APERTA_ERROR_FORMAT, says);
        g_unlink(path);
    }
}

/* The largest file is read, one byte more is not. */
static void test_largest(void **state)
{
    g_autofree char *bytes = g_strnfill(MB + 1, '#');
    g_autofree char *path = write_file(bytes, MB + 1);
    (void)state;

    expect_refused(path, &list, APERTA_ERROR_FORMAT, ": larger than 1 MB, which no list is (shorten it)");
    g_unlink(path);
    bytes[MB] = '\0';
    expect_text(bytes, MB, bytes);
}

static void test_no_file(void **state)
{
    g_autofree char *missing = g_build_filename(folder, "missing.txt", NULL);
    (void)state;

    expect_refused(missing, &list, APERTA_ERROR_NOT_FOUND, ": no such file (check the name and the folder)");
    expect_refused(missing, &book, APERTA_ERROR_NOT_FOUND, ": no such file (check the name and the folder)");
    expect_refused(folder, &book, APERTA_ERROR_FORMAT, ": this is a folder (name the book in it)");
}

/* A device without an end: read, it would fill the memory. */
static void test_endless(void **state)
{
    (void)state;

    if (fork() == 0) { /* so that only this check has little memory */
        g_autoptr(GError) error = NULL;
#ifndef __SANITIZE_ADDRESS__ /* which takes far more by itself */
        setrlimit(RLIMIT_AS, &(struct rlimit){512u << 20, 512u << 20});
#endif
        gboolean refused =
            base_text_read("/dev/zero", &list, &error) == NULL && strstr(error->message, "larger") != NULL;
        _exit(refused ? 0 : 1);
    }
    int status = -1;
    assert_true(wait(&status) > 0);
    assert_int_equal(status, 0);
}

static gpointer write_to(gpointer data)
{
    const char *const *what = data; /* path, text */
    FILE *file = fopen(what[0], "w");

    if (file == NULL)
        return NULL;
    fputs(what[1], file);
    fclose(file);
    return NULL;
}

/* text: what its writer sends. */
static char *read_pipe(const char *path, const char *text, const base_file_kind *kind, GError **error)
{
    const char *what[] = {path, text};
    GThread *writer = g_thread_new("writer", write_to, what);
    char *found = base_text_read(path, kind, error);

    g_thread_join(writer);
    return found;
}

static void test_pipe(void **state)
{
    g_autofree char *path = g_build_filename(folder, "pipe", NULL);
    g_autoptr(GError) error = NULL;
    (void)state;

    assert_int_equal(mkfifo(path, 0600), 0);
    g_autofree char *text = read_pipe(path, "1,ee\n", &list, &error);
    assert_string_equal(text, "1,ee\n");
    assert_null(read_pipe(path, "", &list, &error));
    assert_non_null(strstr(error->message, "nothing came through the pipe"));
    assert_true(g_error_matches(error, APERTA_ERROR, APERTA_ERROR_FORMAT));
    g_unlink(path);
}

/* Waiting for the writer to come again would last for ever. */
static void test_pipe_is_kept(void **state)
{
    g_autofree char *path = g_build_filename(folder, "kept", NULL);
    (void)state;

    assert_int_equal(mkfifo(path, 0600), 0);
    g_autofree char *first = read_pipe(path, "moon\n", &book, NULL);
    g_autofree char *again = base_text_read(path, &book, NULL);
    assert_string_equal(first, "moon\n");
    assert_string_equal(again, "moon\n");
    g_unlink(path);
}

/* A pipe that was given open is read from where it is, though nobody could open it anew. */
static void test_given(void **state)
{
    int ends[2];
    (void)state;

    assert_int_equal(pipe(ends), 0);
    assert_int_equal(write(ends[1], "ee\n", 3), 3);
    close(ends[1]);
    g_autofree char *path = g_strdup_printf("/dev/fd/%d", ends[0]);
    g_autofree char *text = base_text_read(path, &list, NULL);
    assert_string_equal(text, "ee\n");
    close(ends[0]);
    assert_int_equal(base_file_given(path), -1);
    assert_int_equal(base_file_given("/dev/fd/0x"), -1);
    assert_int_equal(base_file_given("list.txt"), -1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_text),    cmocka_unit_test(test_bytes_have_an_end), cmocka_unit_test(test_no_text),
        cmocka_unit_test(test_largest), cmocka_unit_test(test_no_file),           cmocka_unit_test(test_endless),
        cmocka_unit_test(test_pipe),    cmocka_unit_test(test_pipe_is_kept),      cmocka_unit_test(test_given),
    };
    return cmocka_run_group_tests(tests, make_folder, remove_folder);
}
