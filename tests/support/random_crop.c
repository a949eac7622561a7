/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "random_parts.h"

static void random_cuts(struct wording_sheet *crop, struct random_draw *draw)
{
    struct wording_sheet list = {0};
    for (int left = random_pick(draw, 3); left > 0; left--) {
        struct wording_sheet cut = {0};
        wording_put_day(&cut, &draw->wording, "first",
                        random_days(draw, 0.2, draw->days));
        if (random_chance(draw, 0.4)) {
            wording_put(&cut, &draw->wording, "every", WORDING_D,
                        random_days(draw, 1, 5));
        }
        wording_put(&cut, &draw->wording, "share", WORDING_SHARE,
                    random_draw(draw, 0.05, 0.9));
        wording_part(&list, &cut, &draw->wording);
    }
    if (list.count > 0) {
        wording_list(crop, &list, "cuts");
    }
}

/* Drinks the bucket empty in two days, or in a month. */
static void random_table_stage(struct wording_sheet *list, struct random_draw *draw,
                               int number)
{
    struct wording_sheet stage = {0};
    struct wording_sheet eats = {0};
    struct wording_sheet follows = {0};
    wording_add(&stage, "name = \"stage %d\"", number);
    wording_put(&stage, &draw->wording, "lasts", WORDING_D,
                random_days(draw, 0.5, 0.6 * draw->days));
    wording_put(&stage, &draw->wording, "drinks", WORDING_L_D,
                draw->hurry * random_draw(draw, 0.3, 1));
    for (int i = 0; i < ION_COUNT; i++) {
        const int kind = random_pick(draw, 3);
        if (kind == 1) {
            wording_put_ion(&eats, &draw->wording, i, random_decades(draw, 0.05, 8));
        } else if (kind == 2) {
            wording_add(&follows, "%s = %.17g", ion_table[i].key,
                        random_draw(draw, 0.02, 1.6));
        }
    }
    wording_group(&stage, &eats, &draw->wording, "eats");
    wording_group(&stage, &follows, &draw->wording, "follows");
    wording_part(list, &stage, &draw->wording);
}

static void random_table_crop(struct wording_sheet *crop, struct random_draw *draw)
{
    struct wording_sheet list = {0};
    wording_add(crop, "kind = \"table\"");
    draw->stages = 1 + random_pick(draw, 3);
    for (int i = 0; i < draw->stages; i++) {
        random_table_stage(&list, draw, i);
    }
    wording_list(crop, &list, "stages");
    if (random_chance(draw, 0.3)) {
        wording_put(crop, &draw->wording, "root_start", WORDING_CM,
                    random_draw(draw, 0, 12));
    }
}

static void random_grown_stages(struct wording_sheet *crop, struct random_draw *draw)
{
    struct wording_sheet list = {0};
    draw->stages = 1 + random_pick(draw, 3);
    for (int i = 0; i < draw->stages; i++) {
        struct wording_sheet stage = {0};
        wording_add(&stage, "name = \"stage %d\"", i);
        /* degC d: a warm day brings about fifteen */
        wording_add(&stage, "from = \"%.17g degC d\"", i * random_draw(draw, 10, 40));
        wording_part(&list, &stage, &draw->wording);
        if (i == 1) {
            draw->stages = 2; /* a third might begin before the second */
        }
    }
    wording_list(crop, &list, "stages");
}

static void random_grown_crop(struct wording_sheet *crop, struct random_draw *draw)
{
    wording_add(crop, "kind = \"grown\"");
    random_grown_stages(crop, draw);
    wording_put(crop, &draw->wording, "start_mass", WORDING_G,
                random_decades(draw, 0.2, 60));
    wording_add(crop, "footprint = \"%.17g m2\"", random_decades(draw, 0.02, 0.8));
    wording_add(crop, "stomatal_scale = %.17g", random_decades(draw, 0.4, 2.5));
    wording_add(crop, "light_use = \"%.17g g/mol\"", random_draw(draw, 0.4, 1.2));
    wording_put(crop, &draw->wording, "root_start", WORDING_CM, random_draw(draw, 1, 20));
    if (random_chance(draw, 0.3)) {
        wording_add(crop, "turnover = \"%.17g /d\"", random_draw(draw, 0, 0.02));
        wording_add(crop, "ammonium_share = %.17g", random_unit(&draw->seed));
        wording_add(crop, "minimum_ratio = %.17g", random_draw(draw, 0.2, 0.8));
    }
}

void random_crop(struct wording_sheet *top, struct random_draw *draw)
{
    static const char *const shipped[] = {"basil", "lettuce", "strawberry", "tomato"};
    struct wording_sheet crop = {0};
    const int kind = random_pick(draw, 8);
    draw->stages = 0;
    if (kind == 0) {
        wording_add(top, "@include \"crops/%s.cfg\"", shipped[random_pick(draw, 4)]);
        return;
    }
    if (kind <= 2) {
        wording_add(&crop, "kind = \"none\"");
    } else {
        random_cuts(&crop, draw);
        if (kind <= 5) {
            random_table_crop(&crop, draw);
        } else {
            random_grown_crop(&crop, draw);
        }
    }
    wording_group(top, &crop, &draw->wording, "crop");
}
