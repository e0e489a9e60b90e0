/* SPDX-License-Identifier: MIT
 *
 * Progress for somebody who waits at a terminal.
 */
#define _POSIX_C_SOURCE 200809L

#include <time.h>
#include <unistd.h>

#include "catalogue.h"

#define INTERVAL 200 /* milliseconds */

static int64_t milliseconds(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

void progress_begin(progress_line *progress)
{
    progress->terminal = isatty(STDERR_FILENO) == 1 && isatty(STDOUT_FILENO) != 1;
    progress->shown = false;
    progress->last = milliseconds();
}

void progress_show(progress_line *progress, unsigned long rows)
{
    if (!progress->terminal)
        return;
    int64_t now = milliseconds();
    if (now - progress->last < INTERVAL)
        return;
    fprintf(stderr, "\rplatewright: %lu row%s", rows, rows == 1 ? "" : "s");
    fflush(stderr);
    progress->shown = true;
    progress->last = now;
}

void progress_hide(progress_line *progress)
{
    if (progress->shown)
        fprintf(stderr, "\r%40s\r", "");
    progress->shown = false;
}
