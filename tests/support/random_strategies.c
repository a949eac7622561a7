/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "random_parts.h"

static void random_clock(struct wording_sheet *sheet, struct random_draw *draw,
                         const char *key)
{
    const int hour = random_pick(draw, 24);
    wording_add(sheet, "%s = \"%02d:%02d\"", key, hour,
                random_chance(draw, 0.5) ? 0 : random_pick(draw, 60));
}

/* The rule with its settings; `stock` says whether there is any to pour. */
static void random_fill(struct wording_sheet *sheet, struct random_draw *draw, bool stock)
{
    static const char *const rules[] = {"water", "stock", "mix", "aim"};
    const int rule = stock ? random_pick(draw, 4) : 0;
    wording_add(sheet, "fill = \"%s\"", rules[rule]);
    if (rule == 2) {
        wording_put(sheet, &draw->wording, "stock_share", WORDING_SHARE,
                    random_unit(&draw->seed));
    } else if (rule == 3) {
        wording_put(sheet, &draw->wording, "aim_ec", WORDING_MS_CM,
                    random_draw(draw, 0.3, 3.5));
    }
    if (random_chance(draw, 0.25)) {
        wording_put(sheet, &draw->wording, "pour", WORDING_L,
                    random_draw(draw, 0.02, 0.6) * draw->full_l);
    }
}

static void random_by_stage(struct wording_sheet *sheet, struct random_draw *draw,
                            bool stock)
{
    struct wording_sheet list = {0};
    for (int i = 0; i < draw->stages; i++) {
        struct wording_sheet stage = {0};
        if (random_chance(draw, 0.6)) {
            wording_add(&stage, "stage = \"stage %d\"", i);
            random_fill(&stage, draw, stock);
            wording_part(&list, &stage, &draw->wording);
        }
    }
    if (list.count > 0) {
        wording_list(sheet, &list, "by_stage");
    }
}

static void random_renewal(struct wording_sheet *sheet, struct random_draw *draw,
                           bool stock)
{
    static const int watched[] = {ION_NA, ION_CL, ION_SO4, ION_NO3};
    if (random_chance(draw, 0.5)) {
        wording_put(sheet, &draw->wording, "renew_every", WORDING_D,
                    random_days(draw, 1, 12));
    }
    if (random_chance(draw, 0.3)) {
        wording_put(sheet, &draw->wording, "renew_above_ec", WORDING_MS_CM,
                    random_draw(draw, 0.5, 4));
    }
    if (random_chance(draw, 0.3)) {
        struct wording_sheet above = {0};
        for (int i = 0; i < 2; i++) {
            const int ion = watched[2 * i + random_pick(draw, 2)];
            wording_put_ion(&above, &draw->wording, ion, random_decades(draw, 0.1, 10));
        }
        wording_group(sheet, &above, &draw->wording, "renew_above");
    }
    if (random_chance(draw, 0.5)) {
        wording_put(sheet, &draw->wording, "renew_share", WORDING_SHARE,
                    random_draw(draw, 0.1, 1));
    }
    if (stock && random_chance(draw, 0.4)) {
        wording_put(sheet, &draw->wording, "renew_stock_share", WORDING_SHARE,
                    random_unit(&draw->seed));
    }
}

static void random_adjust(struct wording_sheet *sheet, struct random_draw *draw)
{
    static const char *const acids[] = {"HNO3", "H3PO4", "H2SO4", "HCl"};
    static const char *const bases[] = {"KOH", "KHCO3", "K2CO3", "NaOH"};
    struct wording_sheet adjust = {0};
    const bool acid = random_chance(draw, 0.6);
    const double to = random_draw(draw, 5.2, 6.4);
    const double gap = random_draw(draw, 0, 0.8);
    wording_add(&adjust, "with = \"%s\"", (acid ? acids : bases)[random_pick(draw, 4)]);
    wording_add(&adjust, "to_ph = %.17g", to);
    wording_add(&adjust, "%s = %.17g", acid ? "above_ph" : "below_ph",
                acid ? to + gap : to - gap);
    wording_group(sheet, &adjust, &draw->wording, "adjust");
}

static void random_away(struct wording_sheet *sheet, struct random_draw *draw)
{
    struct wording_sheet list = {0};
    for (int left = 1 + random_pick(draw, 2); left > 0; left--) {
        struct wording_sheet away = {0};
        const double from = random_days(draw, 0, draw->days);
        wording_put_day(&away, &draw->wording, "from", from);
        wording_put_day(&away, &draw->wording, "to", from + random_days(draw, 0.5, 8));
        wording_part(&list, &away, &draw->wording);
    }
    wording_list(sheet, &list, "away");
}

static void random_own_liquids(struct wording_sheet *sheet, struct random_draw *draw,
                               bool *stock)
{
    struct wording_sheet part = {0};
    if (random_chance(draw, 0.25)) {
        random_water(&part, draw);
        wording_group(sheet, &part, &draw->wording, "water");
    }
    if (random_chance(draw, 0.2)) {
        random_recipe(&part, draw);
        wording_group(sheet, &part, &draw->wording, "recipe");
        *stock = true;
    }
}

static void random_strategy(struct wording_sheet *list, struct random_draw *draw,
                            int number)
{
    struct wording_sheet sheet = {0};
    bool stock = draw->stock;
    wording_add(&sheet, "name = \"hand %d\"", number);
    wording_put(&sheet, &draw->wording, "visit_every", WORDING_D,
                random_days(draw, 0.4, 5));
    if (random_chance(draw, 0.6)) {
        random_clock(&sheet, draw, "visit_at");
    }
    random_own_liquids(&sheet, draw, &stock);
    random_fill(&sheet, draw, stock);
    random_by_stage(&sheet, draw, stock);
    if (random_chance(draw, 0.6)) {
        random_renewal(&sheet, draw, stock);
    }
    if (random_chance(draw, 0.3)) {
        random_adjust(&sheet, draw);
    }
    if (random_chance(draw, 0.3)) {
        random_away(&sheet, draw);
    }
    wording_part(list, &sheet, &draw->wording);
}

void random_strategies(struct wording_sheet *top, struct random_draw *draw)
{
    struct wording_sheet list = {0};
    const int count = 1 + random_pick(draw, 3);
    for (int i = 0; i < count; i++) {
        random_strategy(&list, draw, i);
    }
    char *const text = wording_join(&list, &draw->wording, "(\n  ", ",\n  ", " )");
    wording_add(top, "strategies = %s", text);
    free(text);
}
