/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A small scenario of a plant as measured, which tests of logbooks learn about. */
#ifndef TESTS_CLI_SHED_H
#define TESTS_CLI_SHED_H

static const char shed_bucket[] =
    "title = \"Shed\";\nduration = \"24 d\";\nbucket = { full = \"12 L\"; evaporation = "
    "\"0.05 L/d\"; };\ncrop = { kind = \"table\"; stages = ( { name = \"all\"; drinks = "
    "\"0.7 L/d\"; eats = { k = \"4 mmol/L\"; no3 = \"7 mmol/L\"; }; } ); };\nwater = { "
    "};\n"
    "stock = { k = \"7 mmol/L\"; no3 = \"12 mmol/L\"; ca = \"2.5 mmol/L\"; };\n"
    "strategies = ( { name = \"Mix\"; fill = \"mix\"; stock_share = 0.5; } );\n";

#endif
