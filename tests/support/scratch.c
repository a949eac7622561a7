/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "scratch.h"

#include <dirent.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static void scratch_need(bool good, const char *what)
{
    if (!good) {
        perror(what);
        abort();
    }
}

struct scratch scratch_make(void)
{
    const char *parent = getenv("TMPDIR");
    struct scratch scratch;
    (void)snprintf(scratch.folder, sizeof scratch.folder, "%s/pailcast-test-XXXXXX",
                   parent != NULL ? parent : "/tmp");
    scratch_need(mkdtemp(scratch.folder) != NULL, "mkdtemp");
    return scratch;
}

static void scratch_path(char to[SCRATCH_PATH_SIZE], const struct scratch *scratch,
                         const char *name)
{
    int wrote = snprintf(to, SCRATCH_PATH_SIZE, "%s/%s", scratch->folder, name);
    scratch_need(wrote > 0 && wrote < SCRATCH_PATH_SIZE, "path");
}

/* Walks the folder; removes what it meets when asked. */
static size_t scratch_walk(const struct scratch *scratch, const char *ending, bool remove)
{
    size_t count = 0;
    DIR *folder = opendir(scratch->folder);
    scratch_need(folder != NULL, scratch->folder);
    for (struct dirent *entry = readdir(folder); entry != NULL; entry = readdir(folder)) {
        const size_t length = strlen(entry->d_name);
        const size_t end = strlen(ending);
        if (strcmp(entry->d_name, ".") == 0 || strcmp(entry->d_name, "..") == 0 ||
            length < end || strcmp(entry->d_name + length - end, ending) != 0) {
            continue;
        }
        count++;
        if (remove) {
            char path[SCRATCH_PATH_SIZE];
            scratch_path(path, scratch, entry->d_name);
            scratch_need(unlink(path) == 0, path);
        }
    }
    (void)closedir(folder);
    return count;
}

void scratch_remove(struct scratch *scratch)
{
    (void)scratch_walk(scratch, "", true);
    scratch_need(rmdir(scratch->folder) == 0, scratch->folder);
    scratch->folder[0] = '\0';
}

size_t scratch_count(const struct scratch *scratch, const char *ending)
{
    return scratch_walk(scratch, ending, false);
}

bool scratch_holds(const struct scratch *scratch, const char *name)
{
    char path[SCRATCH_PATH_SIZE];
    scratch_path(path, scratch, name);
    return access(path, F_OK) == 0;
}

void scratch_write(const struct scratch *scratch, const char *name, const char *text,
                   bool executable)
{
    char path[SCRATCH_PATH_SIZE];
    scratch_path(path, scratch, name);
    FILE *out = fopen(path, "w");
    scratch_need(out != NULL, path);
    scratch_need(fputs(text, out) >= 0 && fclose(out) == 0, path);
    scratch_need(!executable || chmod(path, 0755) == 0, path);
}

char *scratch_read(const struct scratch *scratch, const char *name)
{
    char path[SCRATCH_PATH_SIZE];
    scratch_path(path, scratch, name);
    FILE *in = fopen(path, "r");
    if (in == NULL) {
        return NULL;
    }
    struct scratch_text text = {0};
    scratch_open(&text);
    for (int c = fgetc(in); c != EOF; c = fgetc(in)) {
        fputc(c, text.out);
    }
    (void)fclose(in);
    return scratch_close(&text);
}

void scratch_open(struct scratch_text *text)
{
    text->out = open_memstream(&text->text, &text->size);
    scratch_need(text->out != NULL, "open_memstream");
}

char *scratch_close(struct scratch_text *text)
{
    scratch_need(fclose(text->out) == 0, "open_memstream");
    return text->text;
}

size_t scratch_occurs(const char *text, const char *word)
{
    size_t count = 0;
    for (const char *at = strstr(text, word); at != NULL;
         at = strstr(at + strlen(word), word)) {
        count++;
    }
    return count;
}
