/* fuzz.h - what the fuzz targets share.
 *
 * A target is one function, LLVMFuzzerTestOneInput, that reads bytes and aborts when a reading breaks its promises.
 * With clang it becomes a fuzzer (tests/fuzz/run); in "make check" replay.c calls it with seeds and changed seeds. */
#ifndef FUZZ_H
#define FUZZ_H

#include <aperta/score.h>

#include <stdint.h>
#include <stdlib.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);
/* The seeds of the target, GBytes. */
GPtrArray *fuzz_seeds(void);

/* Reads the bytes as if from a file of that name; checks what a score promises; NULL: refused, with a message. */
aperta_score *fuzz_read(const char *name, const uint8_t *data, size_t size);
/* The bytes as a file, for readers that want a path: of memory, gone when *fd is closed. The caller frees the path. */
char *fuzz_file(const uint8_t *data, size_t size, int *fd);
/* A message is UTF-8, and begins with the file that it is about. */
void fuzz_check_error(const GError *error, const char *path);
/* A seed from a text. */
void fuzz_add_text(GPtrArray *seeds, const char *text);
/* Seeds from those files of the reference data whose names end so; folder "rules". */
void fuzz_add_reference(GPtrArray *seeds, const char *folder, const char *ending);

/* abort() and not g_error(), whose signal libFuzzer does not catch. */
#define fuzz_require(condition)                                                                                        \
    do {                                                                                                               \
        if (!(condition)) {                                                                                            \
            g_printerr("%s:%d: %s does not hold\n", __FILE__, __LINE__, #condition);                                   \
            abort();                                                                                                   \
        }                                                                                                              \
    } while (0)

#endif
