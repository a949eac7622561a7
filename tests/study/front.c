/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/study/front.h"

#include <math.h>
#include <string.h>

#include "support/close.h"

/* Schaffer 1985, first problem (from memory): x^2 and (x - 2)^2; the front is x from 0 to
 * 2, on which sqrt(f1) + sqrt(f2) = 2. */
static enum status schaffer(struct front_point points[], size_t count, void *context,
                            struct error *error)
{
    size_t *evaluated = context;
    (void)error;
    for (size_t i = 0; i < count; i++) {
        const double x = 2000 * points[i].setting[0] - 1000;
        points[i].aim[0] = x * x;
        points[i].aim[1] = (x - 2) * (x - 2);
    }
    *evaluated += count;
    return STATUS_OK;
}

static void schaffers_front_is_found(void **state)
{
    (void)state;
    size_t evaluated = 0;
    struct front front = {0};
    struct error error = {0};
    const struct front_problem problem = {.settings = 1,
                                          .aims = 2,
                                          .population = 20,
                                          .generations = 50,
                                          .seed = 4,
                                          .evaluate = schaffer,
                                          .context = &evaluated};
    assert_int_equal(front_search(&front, &problem, NULL, &error), STATUS_OK);
    assert_int_equal(evaluated, front.count);
    size_t on_front = 0;
    double most = 0;
    double least = 4;
    for (size_t i = 0; i < front.count; i++) {
        if (front_holds(&front, i, 2)) {
            const double *aim = front.points[i].aim;
            /* A little outside an end only a point between beats, if one was tried. */
            assert_close(sqrt(aim[0]) + sqrt(aim[1]), 2, 0, 0.03);
            most = fmax(most, aim[0]);
            least = fmin(least, aim[0]);
            on_front++;
        }
    }
    assert_true(on_front > 30);
    assert_true(most > 3.5 && least < 0.02);
    front_free(&front);
}

/* ZDT1 of Zitzler, Deb & Thiele 2000 with six settings (from memory): the front is
 * f2 = 1 - sqrt(f1), all settings but the first zero. */
static enum status zdt1(struct front_point points[], size_t count, void *context,
                        struct error *error)
{
    (void)context;
    (void)error;
    for (size_t i = 0; i < count; i++) {
        const double *x = points[i].setting;
        const double g = 1 + 9 * (x[1] + x[2] + x[3] + x[4] + x[5]) / 5;
        points[i].aim[0] = x[0];
        points[i].aim[1] = g * (1 - sqrt(x[0] / g));
    }
    return STATUS_OK;
}

static void zdt1_front_is_reached_along_its_length(void **state)
{
    (void)state;
    struct front front = {0};
    struct error error = {0};
    const struct front_problem problem = {.settings = 6,
                                          .aims = 2,
                                          .population = 24,
                                          .generations = 120,
                                          .seed = 7,
                                          .evaluate = zdt1};
    assert_int_equal(front_search(&front, &problem, NULL, &error), STATUS_OK);
    /* Mean distance of the front found above the true one, and every fifth of the way
     * along f1 held by some point. */
    double above = 0;
    size_t count = 0;
    bool held[5] = {false};
    for (size_t i = 0; i < front.count; i++) {
        const double *aim = front.points[i].aim;
        if (front_holds(&front, i, 2)) {
            above += aim[1] - (1 - sqrt(aim[0]));
            held[(int)fmin(5 * aim[0], 4)] = true;
            count++;
        }
    }
    assert_true(above / (double)count < 0.01);
    for (int i = 0; i < 5; i++) {
        assert_true(held[i]);
    }
    front_free(&front);
}

/* Only x >= 1.3 is allowed: the front is then x from 1.3 to 2. */
static enum status limited(struct front_point points[], size_t count, void *context,
                           struct error *error)
{
    const enum status status = schaffer(points, count, context, error);
    for (size_t i = 0; i < count; i++) {
        points[i].violation = fmax(1.3 - (2000 * points[i].setting[0] - 1000), 0);
    }
    return status;
}

static void a_limit_cuts_the_front(void **state)
{
    (void)state;
    size_t evaluated = 0;
    struct front front = {0};
    struct error error = {0};
    const double first[] = {0.1};
    const struct front_problem problem = {.settings = 1,
                                          .aims = 2,
                                          .population = 20,
                                          .generations = 50,
                                          .seed = 5,
                                          .evaluate = limited,
                                          .context = &evaluated};
    assert_int_equal(front_search(&front, &problem, first, &error), STATUS_OK);
    assert_close(front.points[0].setting[0], 0.1, 0, 0);
    for (size_t i = 0; i < front.count; i++) {
        if (front_holds(&front, i, 2)) {
            assert_true(front.points[i].aim[0] >= 1.69 - 1e-9);
            assert_true(front.points[i].aim[0] <= 4 + 1e-9);
        }
    }
    front_free(&front);
}

static void the_search_repeats_itself(void **state)
{
    (void)state;
    struct front front[3] = {{0}};
    struct error error = {0};
    for (int i = 0; i < 3; i++) {
        const struct front_problem problem = {.settings = 6,
                                              .aims = 2,
                                              .population = 12,
                                              .generations = 6,
                                              .seed = i < 2 ? 3 : 4,
                                              .evaluate = zdt1};
        assert_int_equal(front_search(&front[i], &problem, NULL, &error), STATUS_OK);
    }
    assert_int_equal(front[0].count, front[1].count);
    for (size_t i = 0; i < front[0].count; i++) {
        assert_close(front[0].points[i].aim[1], front[1].points[i].aim[1], 0, 0);
    }
    assert_true(fabs(front[0].points[3].aim[1] - front[2].points[3].aim[1]) > 1e-9);
    for (int i = 0; i < 3; i++) {
        front_free(&front[i]);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(schaffers_front_is_found),
        cmocka_unit_test(zdt1_front_is_reached_along_its_length),
        cmocka_unit_test(a_limit_cuts_the_front),
        cmocka_unit_test(the_search_repeats_itself),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
