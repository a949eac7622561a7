/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <math.h>

#include "../../sim/chem/balance.h"

static const struct equilibrium *warm(void)
{
    static struct equilibrium constants;
    constants = equilibrium_at(23.85);
    return &constants;
}

static struct balance_problem problem(void)
{
    return (struct balance_problem){
        .constants = warm(),
        .total = {7.3e-3, 0.8e-3, 1.1e-3, 3.7e-3, 2.9e-3, 1.6e-3, 2.3e-3, 0.9e-3, 1.7e-3},
        .co2 = 2.1e-5,
        .davies = 1.17,
    };
}

static const struct balance_unknowns somewhere = {
    .so4 = 0.7e-3, .h2po4 = 0.5e-3, .h = 3.1e-7, .ionic_strength = 0.0217};

/* Davies at I = 0.0217 by hand: sqrt = 0.14731, 0.14731/1.14731 - 0.00651 = 0.121886. */
static void activity_follows_davies(void **state)
{
    (void)state;
    double g[4];
    double u[4];
    (void)balance_activity(g, u, 0.0217, 1.17);
    for (int z = 0; z < 4; z++) {
        assert_close(log(g[z]), -1.17 * z * z * 0.121886, 1e-5, 1e-12);
        assert_close(g[z] * u[z], 1, 1e-14, 0);
    }
}

static void activity_levels_off_where_davies_turns_back(void **state)
{
    (void)state;
    double g[4];
    double beyond[4];
    double u[4];
    assert_true(fabs(balance_activity(g, u, 0.39497, 1.17)) < 1e-4);
    assert_close(balance_activity(beyond, u, 3.1, 1.17), 0, 0, 0);
    assert_close(beyond[3], g[3], 1e-9, 0);
}

/* The sums' products are derivatives: compared with differences of the sums themselves.
 */
static void sums_respond_as_their_products_say(void **state)
{
    (void)state;
    static const double step = 1e-5;
    const struct balance_problem p = problem();
    struct speciation out = {.mol_l = {0}};
    struct balance_sums at;
    balance_evaluate(&out, &at, &somewhere, &p);
    for (int k = 0; k < 4; k++) {
        struct balance_sums side[2];
        for (int s = 0; s < 2; s++) {
            const double d = s == 0 ? -step : step;
            struct balance_unknowns x = somewhere;
            x.so4 *= exp(k == 0 ? d : 0);
            x.h2po4 *= exp(k == 1 ? d : 0);
            x.h *= exp(k == 2 ? -d : 0);
            x.ionic_strength += k == 3 ? d : 0;
            balance_evaluate(&out, &side[s], &x, &p);
        }
        const double scale = k == 3 ? at.field : 1;
        const double expected[4][4] = {{at.ss, at.sp, at.sa, at.sz},
                                       {at.sp, at.pp, at.pa, at.pz},
                                       {at.sa, at.pa, at.aa, at.az},
                                       {at.sz, at.pz, at.az, at.zz}};
        const double change[4] = {side[1].s - side[0].s, side[1].p - side[0].p,
                                  side[1].a - side[0].a, side[1].z - side[0].z};
        for (int row = 0; row < 4; row++) {
            assert_close(change[row] / (2 * step), scale * expected[k][row], 1e-5, 1e-9);
        }
    }
}

static void sums_count_what_the_species_hold(void **state)
{
    (void)state;
    const struct balance_problem p = problem();
    struct speciation out = {
        .mol_l = {[SPECIES_NO3] = p.total[ION_NO3], [SPECIES_CL] = p.total[ION_CL]}};
    struct balance_sums sums;
    balance_evaluate(&out, &sums, &somewhere, &p);
    double charge = 0;
    for (int i = 0; i < SPECIES_COUNT; i++) {
        charge += out.mol_l[i] * species_charge[i] * species_charge[i];
    }
    assert_close(sums.z, charge, 1e-13, 0);
    const double *c = out.mol_l;
    assert_close(sums.s,
                 c[SPECIES_SO4] + c[SPECIES_HSO4] + c[SPECIES_CASO4] + c[SPECIES_MGSO4] +
                     c[SPECIES_KSO4] + c[SPECIES_NASO4] + c[SPECIES_NH4SO4],
                 1e-13, 0);
    assert_close(c[SPECIES_CA] + c[SPECIES_CASO4] + c[SPECIES_CAHCO3] + c[SPECIES_CACO3] +
                     c[SPECIES_CAH2PO4] + c[SPECIES_CAHPO4] + c[SPECIES_CAPO4],
                 p.total[ION_CA], 1e-13, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(activity_follows_davies),
        cmocka_unit_test(activity_levels_off_where_davies_turns_back),
        cmocka_unit_test(sums_respond_as_their_products_say),
        cmocka_unit_test(sums_count_what_the_species_hold),
    };
    return cmocka_run_group_tests_name("balance", tests, NULL, NULL);
}
