/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Equilibrium constants at a temperature, from one of two forms (T in K):
 *     log10 K = a + b T + c/T + d log10 T + e/T^2
 *     log10 K = log10 K(25 degC) - H/(R ln 10) (1/T - 1/298.15),  H in J/mol
 * Sources: carbonic acid and CO2: Plummer & Busenberg 1982, GCA 46:1011. Water, ammonium,
 * sulfate, carbonate and phosphate pairs: the WATEQ4F set (Ball & Nordstrom 1991, USGS
 * OFR 91-183). H3PO4: NIST 46, its enthalpy with the phosphates of the PHREEQC set. Two
 * rows are not from there: log K of MgSO4 is 2.23, fitted to the conductivities of Tomsic
 * et al. (between 2.37 of WATEQ4F and 2.19 of conductance work); the polynomials of CaCO3
 * and MgCO3 are from memory and meet the tabulated 3.224 and 2.98 at 25 degC.
 * Constants are molal; a litre of bucket is taken as a kilogram of water (0.3 % at 25
 * degC, 0.001 pH). Activity coefficients: Davies 1962,
 *     log10 g_z = -A z^2 (sqrt I/(1 + sqrt I) - 0.3 I),
 *     A = 1.82483e6 sqrt(rho)/(eps T)^1.5. */
#include "pailcast/chem/equilibrium.h"

#include <math.h>
#include <stddef.h>

#include "water.h"

struct polynomial_row {
    double a, b, c, d, e;
};

struct enthalpy_row {
    enum species pair;
    double log_k, enthalpy_kcal;
};

static const double kcal_j = 4184;
static const double ln10_gas_constant = 2.302585092994046 * 8.314462618; /* J/(mol K) */
static const double reference_k = 298.15;

static const struct polynomial_row water_row = {-283.971, -0.05069842, 13323, 102.24447,
                                                -1119669};
static const struct polynomial_row henry_row = {108.3865, 0.01985076, -6919.53, -40.45154,
                                                669365};
static const struct polynomial_row k1_row = {-356.3094, -0.06091964, 21834.37, 126.8339,
                                             -1684915};
static const struct polynomial_row k2_row = {-107.8871, -0.03252849, 5151.79, 38.92561,
                                             -563713.9};
static const struct polynomial_row ammonium_row = {0.6322, -0.001225, -2835.76, 0, 0};

/* Association enthalpies turned round: these are dissociation constants. */
static const double phosphate_log_k[3] = {-2.168, -7.207, -12.346};
static const double phosphate_enthalpy_kcal[3] = {-2.106, 0.99, 3.53};

static const struct enthalpy_row enthalpy_rows[] = {
    {SPECIES_HSO4, 1.988, 3.85},   {SPECIES_NASO4, 0.70, 1.12},
    {SPECIES_NH4SO4, 1.11, 0},     {SPECIES_CAH2PO4, 1.408, 3.4},
    {SPECIES_MGH2PO4, 1.513, 3.4}, {SPECIES_CAPO4, 6.459, 3.1},
    {SPECIES_MGPO4, 6.589, 3.1},   {SPECIES_KHPO4, 0.29, 0},
    {SPECIES_NAHPO4, 0.29, 0},     {SPECIES_CASO4, 2.30, 1.65},
    {SPECIES_MGSO4, 2.23, 4.55},   {SPECIES_CAHPO4, 2.739, 3.3},
    {SPECIES_MGHPO4, 2.87, 3.3},
};

static const struct {
    enum species pair;
    struct polynomial_row row;
} polynomial_rows[] = {
    {SPECIES_KSO4, {3.106, 0, -673.6, 0, 0}},
    {SPECIES_CAHCO3, {1209.12, 0.31294, -34765.05, -478.782, 0}},
    {SPECIES_MGHCO3, {-59.215, 0, 2537.455, 20.92298, 0}},
    {SPECIES_CACO3, {-1228.732, -0.299444, 35512.75, 485.818, 0}},
    {SPECIES_MGCO3, {0.9910, 0.00667, 0, 0, 0}},
};

static double equilibrium_polynomial(const struct polynomial_row *row, double kelvin)
{
    return pow(10, row->a + row->b * kelvin + row->c / kelvin + row->d * log10(kelvin) +
                       row->e / (kelvin * kelvin));
}

static double equilibrium_van_t_hoff(double log_k, double enthalpy_kcal, double kelvin)
{
    return pow(10, log_k - enthalpy_kcal * kcal_j / ln10_gas_constant *
                               (1 / kelvin - 1 / reference_k));
}

static double equilibrium_davies_a(double temperature_c)
{
    static const double debye_huckel = 1.82483e6;
    const double eps_t = water_permittivity(temperature_c) * water_kelvin(temperature_c);
    return debye_huckel * sqrt(water_density_kg_l(temperature_c)) / (eps_t * sqrt(eps_t));
}

static void equilibrium_pairs(double pair[SPECIES_COUNT], double kelvin)
{
    for (size_t i = 0; i < sizeof enthalpy_rows / sizeof enthalpy_rows[0]; i++) {
        const struct enthalpy_row *row = &enthalpy_rows[i];
        pair[row->pair] = equilibrium_van_t_hoff(row->log_k, row->enthalpy_kcal, kelvin);
    }
    for (size_t i = 0; i < sizeof polynomial_rows / sizeof polynomial_rows[0]; i++) {
        pair[polynomial_rows[i].pair] =
            equilibrium_polynomial(&polynomial_rows[i].row, kelvin);
    }
}

struct equilibrium equilibrium_at(double temperature_c)
{
    const double kelvin = water_kelvin(temperature_c);
    double kp[3];
    for (int i = 0; i < 3; i++) {
        kp[i] = equilibrium_van_t_hoff(phosphate_log_k[i], phosphate_enthalpy_kcal[i],
                                       kelvin);
    }
    struct equilibrium equilibrium = {
        .temperature_c = temperature_c,
        .debye_huckel_a = equilibrium_davies_a(temperature_c),
        .kw = equilibrium_polynomial(&water_row, kelvin),
        .kh = equilibrium_polynomial(&henry_row, kelvin),
        .k1 = equilibrium_polynomial(&k1_row, kelvin),
        .k2 = equilibrium_polynomial(&k2_row, kelvin),
        .k_nh4 = equilibrium_polynomial(&ammonium_row, kelvin),
        .kp1 = kp[0],
        .kp2 = kp[1],
        .kp3 = kp[2],
    };
    equilibrium_pairs(equilibrium.pair, kelvin);
    equilibrium.pair[SPECIES_NH3] = equilibrium.k_nh4 / equilibrium.kw;
    return equilibrium;
}

double equilibrium_co2(const struct equilibrium *equilibrium, double co2_ppm)
{
    static const double atm_per_ppm = 1e-6;
    return equilibrium->kh * atm_per_ppm * co2_ppm;
}
