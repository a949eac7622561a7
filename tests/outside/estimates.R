# SPDX-License-Identifier: GPL-3.0-or-later
# EC and the hydrogen ion as the rates take them, without iteration, written in R from
# docs/model.md.
# Constants of acidity at a temperature, under 1000 ppm of CO2, for a typical feed: ionic
# strength 0.02, four fifths of 3 and 1.3 mmol/L of calcium and magnesium free.
acidity_at <- function(celsius) {
    kelvin <- celsius + 273.15
    law <- function(a, b, c, d, e = 0) {
        10^(a + b * kelvin + c / kelvin + d * log10(kelvin) + e / kelvin^2)
    }
    warmed <- function(log_k, kcal) {
        10^(log_k + kcal * 4184 / (8.314462618 * log(10)) * (1 / 298.15 - 1 / kelvin))
    }
    permittivity <- sum(c(87.740, -0.40008, 9.398e-4, -1.410e-6) * celsius^(0:3))
    density <- sum(c(999.83952, 16.945176, -7.9870401e-3, -46.170461e-6, 105.56302e-9,
                     -280.54253e-12) * celsius^(0:5)) / (1 + 16.879850e-3 * celsius) / 1000
    a <- 1.82483e6 * sqrt(density) / (permittivity * kelvin)^1.5
    g <- 10^(-a * (sqrt(0.02) / (1 + sqrt(0.02)) - 0.3 * 0.02))
    co2 <- 1e-3 * law(108.3865, 0.01985076, -6919.53, -40.45154, 669365)
    k1 <- law(-356.3094, -0.06091964, 21834.37, 126.8339, -1684915)
    k2 <- law(-107.8871, -0.03252849, 5151.79, 38.92561, -563713.9)
    kw <- law(-283.971, -0.05069842, 13323, 102.24447, -1119669)
    ca <- 0.8 * 3e-3
    mg <- 0.8 * 1.3e-3
    with_p <- warmed(2.739, 3.3) * ca + warmed(2.87, 3.3) * mg
    with_c <- law(-1228.732, -0.299444, 35512.75, 485.818) * ca +
        10^(0.9910 + 0.00667 * kelvin) * mg
    list(g = g, c1 = (k1 * co2 + kw) / g, c2 = k1 * k2 * co2 / g^4 * (1 + g^8 * with_c),
         kp1 = warmed(-2.168, -2.106) / g,
         kp2 = warmed(-7.207, 0.99) / g^3 * (1 + g^8 * with_p))
}

# Activity of the hydrogen ion; alkalinity and phosphate in mol/L.
hydrogen <- function(at, alkalinity, p) {
    product <- (1 / at$g + p / at$kp1) * (at$c1 + at$kp2 * p)
    root <- sqrt(alkalinity^2 + 4 * product)
    base <- if (alkalinity > 0) (alkalinity + root) / 2 else 2 * product / (root - alkalinity)
    b <- base + p + at$c1 / at$kp2
    hpo4 <- 2 * base * p / (b + sqrt(b^2 - 4 * base * p))
    half <- (at$c1 + at$kp2 * (p - hpo4)) / (2 * base)
    half + sqrt(half^2 + 2 * at$c2 / base)
}

# no3, nh4, p, k, ca, mg, so4, na, cl
singly <- c(71.42, 73.5, 33, 73.48, 0, 0, 0, 50.08, 76.31)
square <- c(1, 1, 1, 1, 4, 4, 4, 1, 1)
# EC, mS/cm, of ions and alkalinity in mol/L; 71.42 and the like are limiting conductivities,
# S cm2/mol.
ec_of <- function(m, alkalinity) {
    base <- (alkalinity + sqrt(alkalinity^2 + 4 * 3.3e-6^2)) / 2
    acid <- base - alkalinity
    p <- m[3]
    ca <- m[5]
    mg <- m[6]
    so4 <- m[7]
    once <- sum(singly * m) + 44.5 * base + 349.65 * acid
    twice <- 118.94 * ca + 106 * mg + 160 * so4
    third <- sum(square * m) + base + acid
    strength <- 0.93 * third / 2
    d <- 1 + 9.4 * sqrt(strength) + 35 * strength

    by_ca <- 199.5 * ca
    by_mg <- 169.8 * mg
    shared <- 0.5 * (199.5 + 169.8) * so4
    pulled <- by_ca + by_mg
    b <- d + pulled + shared
    free <- 2 * so4 / (b + sqrt(b * b - 4 * pulled * shared))
    lost <- free * (by_ca * (118.94 + 160) + by_mg * (106 + 160))
    pulled_p <- d + 0.7444 * (548 * ca + 741 * mg)
    pulled_c <- d + 1675 * ca + 955 * mg
    b <- (base + p) * pulled_p + 1.28e-4 * d
    product <- base * p * pulled_p
    hpo4 <- 2 * product / (b + sqrt(b * b - 4 * product * pulled_p))
    w <- 8.764 * (base - hpo4) * pulled_c
    co3 <- (base - hpo4) * w / (d + 4 * w)
    h3po4 <- acid * p / (9e-3 + p)
    free_p <- hpo4 * d / pulled_p
    free_c <- co3 * d / pulled_c
    bound <- hpo4 - free_p + co3 - free_c
    gone <- hpo4 * (44.5 + 33) + co3 * 2 * 44.5 + h3po4 * (33 + 349.65)
    come <- free_p * 114 + free_c * 138.6 - bound * 118.94 - lost
    third <- third - 8 * pulled * free + 4 * (free_p + free_c - bound) -
        2 * (hpo4 + co3 + h3po4)
    first <- once + twice + come - gone
    second <- once + 2 * twice + 2 * come - gone
    root <- sqrt(third / 2)
    first - (0.3558 * second + 30.3 * third) * root / (1 + 1.5982 * root)
}
