/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "random_parts.h"

#include "pailcast/chem/salt.h"

/* A liquid's keys; now and then one that misses its balance, as analyses do, by less than
 * what is worth a warning. */
static void random_liquid_keys(struct wording_sheet *sheet, struct random_draw *draw,
                               const struct liquid *liquid)
{
    const double slip = random_chance(draw, 0.3) ? random_draw(draw, 0.98, 1.02) : 1;
    for (int i = 0; i < ION_COUNT; i++) {
        if (liquid->mmol_l[i] > 0) {
            wording_put_ion(sheet, &draw->wording, i,
                            liquid->mmol_l[i] * (ion_table[i].charge > 0 ? slip : 1));
        }
    }
    if (liquid->alkalinity_meq_l != 0) {
        wording_put(sheet, &draw->wording, "alkalinity", WORDING_MEQ_L,
                    liquid->alkalinity_meq_l);
    }
}

/* From nothing in it to hard and salty. */
void random_water(struct wording_sheet *sheet, struct random_draw *draw)
{
    const double weight[ION_COUNT] = {
        [ION_NO3] = random_draw(draw, 0.01, 0.3), [ION_NH4] = 0,
        [ION_K] = random_draw(draw, 0, 0.1),      [ION_CA] = random_draw(draw, 0.1, 1),
        [ION_MG] = random_draw(draw, 0, 0.6),     [ION_SO4] = random_draw(draw, 0, 0.6),
        [ION_NA] = random_draw(draw, 0, 1),       [ION_CL] = random_draw(draw, 0.05, 1)};
    const double total = random_decades(draw, 0.05, 14);
    const double alkalinity = total * random_draw(draw, 0, 0.9);
    const struct liquid water = random_balanced(weight, total, alkalinity);
    if (random_chance(draw, 0.12)) {
        wording_add(sheet, "name = \"rain\"");
    } else {
        random_liquid_keys(sheet, draw, &water);
    }
}

static void random_stock(struct wording_sheet *sheet, struct random_draw *draw)
{
    struct liquid stock = random_feed(&draw->seed);
    if (random_chance(draw, 0.3)) {
        stock.mmol_l[ION_CL] += 0.7;
        stock.alkalinity_meq_l -= 0.7;
    }
    random_liquid_keys(sheet, draw, &stock);
}

static void random_salts(struct wording_sheet *sheet, struct random_draw *draw)
{
    struct wording_sheet list = {0};
    for (int left = 2 + random_pick(draw, 5); left > 0; left--) {
        struct wording_sheet part = {0};
        const struct salt *salt = &salt_table[random_pick(draw, (int)salt_count)];
        const double most = salt->alkalinity != 0 ? 0.15 : 0.9;
        wording_add(&part, "salt = \"%s\"", salt->formula);
        wording_put(&part, &draw->wording, "dose", WORDING_G_L,
                    random_decades(draw, 0.03, most));
        wording_part(&list, &part, &draw->wording);
    }
    wording_list(sheet, &list, "salts");
}

/* The label of a mixture of KNO3, KH2PO4, MgSO4.7H2O and NaCl: shares of the mass and the
 * percentages that go with them, from IUPAC 2021 abridged atomic weights. */
static void random_label(struct wording_sheet *sheet, struct random_draw *draw)
{
    struct wording_sheet label = {0};
    const double nitrate = random_draw(draw, 10, 50);
    const double phosphate = random_draw(draw, 2, 15);
    const double sulfate = random_draw(draw, 5, 25);
    const double salt = random_draw(draw, 0.1, 5);
    const struct wording *wording = &draw->wording;
    const double shares[] = {nitrate * 14.007 / 101.102,
                             phosphate * 70.972 / 136.084,
                             nitrate * 47.098 / 101.102 + phosphate * 47.098 / 136.084,
                             sulfate * 40.304 / 246.466,
                             sulfate * 32.06 / 246.466,
                             salt * 22.990 / 58.440,
                             salt * 35.45 / 58.440};
    static const char *const keys[] = {"n_nitrate", "p2o5", "k2o", "mgo",
                                       "s",         "na",   "cl"};
    for (size_t i = 0; i < sizeof shares / sizeof *shares; i++) {
        wording_put(&label, wording, keys[i], WORDING_SHARE, shares[i] / 100);
    }
    wording_group(sheet, &label, wording, "label");
    wording_put(sheet, wording, "dose", WORDING_G_L, random_draw(draw, 0.3, 2.5));
}

void random_recipe(struct wording_sheet *sheet, struct random_draw *draw)
{
    if (random_chance(draw, 0.3)) {
        random_label(sheet, draw);
    } else {
        random_salts(sheet, draw);
    }
}

void random_liquids(struct wording_sheet *top, struct random_draw *draw)
{
    static const char *const waters[] = {"hard_tap", "reverse_osmosis", "soft_tap"};
    static const char *const recipes[] = {"fruiting_full", "fruiting_label",
                                          "leafy_weak"};
    struct wording_sheet part = {0};
    if (random_chance(draw, 0.2)) {
        wording_add(top, "@include \"waters/%s.cfg\"", waters[random_pick(draw, 3)]);
    } else {
        random_water(&part, draw);
        wording_group(top, &part, &draw->wording, "water");
    }
    const int kind = random_pick(draw, 10);
    draw->stock = kind > 0;
    if (kind == 1) {
        wording_add(top, "@include \"recipes/%s.cfg\"", recipes[random_pick(draw, 3)]);
    } else if (kind > 0 && kind < 6) {
        random_stock(&part, draw);
        wording_group(top, &part, &draw->wording, "stock");
    } else if (kind >= 6) {
        random_recipe(&part, draw);
        wording_group(top, &part, &draw->wording, "recipe");
    }
    if (random_chance(draw, 0.6)) {
        wording_put(top, &draw->wording, "start_stock_share", WORDING_SHARE,
                    random_draw(draw, 0, 1));
    }
}
