/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Properties of pure water at 1 atm, 0-40 degC. */
#ifndef PAILCAST_CHEM_WATER_H
#define PAILCAST_CHEM_WATER_H

/* Kelvin of a temperature in degC. */
double water_kelvin(double temperature_c);

/* Relative permittivity (Malmberg & Maryott 1956). */
double water_permittivity(double temperature_c);

/* Viscosity, poise (CRC Handbook). */
double water_viscosity_poise(double temperature_c);

/* Density, kg/L (Kell 1975). */
double water_density_kg_l(double temperature_c);

#endif
