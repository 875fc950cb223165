/* main.c - aperta-decode: the recording on standard input, its sound on standard output (audio/decoder-stream.h).
 *
 * A program of its own, because FFmpeg's libraries are large (loading them would delay the start of everything) and
 * read what strangers made: here they can reach nothing but these two descriptors. The library starts it; people need
 * not. */
#ifndef _GNU_SOURCE
#define _GNU_SOURCE /* closefrom */
#endif
#include "decode-private.h"

#include <errno.h>
#include <stdio.h>
#include <unistd.h>

static bool write_out(void *to, const void *bytes, size_t n)
{
    const char *at = bytes;

    while (n > 0) {
        ssize_t done = write(*(const int *)to, at, n);
        if (done < 0 && errno != EINTR)
            return false;
        at += done > 0 ? done : 0;
        n -= done > 0 ? (size_t)done : 0;
    }
    return true;
}

int main(int argc, char **argv)
{
    int out = STDOUT_FILENO;
    const decode_sink sink = {write_out, &out};

    (void)argv;
    if (argc > 1 || isatty(STDOUT_FILENO)) {
        fputs("aperta-decode: reads a recording from standard input and writes its samples for aperta(1), which starts "
              "it by itself\n",
              stderr);
        return 2;
    }
    closefrom(3); /* whatever the program that started us left open */
    if (!decode_confine()) {
        decoder_header header = {.magic = DECODER_MAGIC, .outcome = DECODER_FAILED};
        write_out(&out, &header, sizeof header);
        return 1;
    }
    return decode_stream(STDIN_FILENO, &sink) == DECODER_WHOLE ? 0 : 1;
}
