/* SPDX-License-Identifier: GPL-3.0-or-later */
/* ARKODE under the names it has since SUNDIALS 7.1, also where it is older. */
#ifndef PAILCAST_RUN_ENGINE_ARKODE_H
#define PAILCAST_RUN_ENGINE_ARKODE_H

#include <arkode/arkode_erkstep.h>
#include <sundials/sundials_version.h>

#if SUNDIALS_VERSION_MAJOR < 7 ||                                                        \
    (SUNDIALS_VERSION_MAJOR == 7 && SUNDIALS_VERSION_MINOR < 1)
#define ARKodeWFtolerances          ERKStepWFtolerances
#define ARKodeSetUserData           ERKStepSetUserData
#define ARKodeSetMaxNumSteps        ERKStepSetMaxNumSteps
#define ARKodeSetMaxErrTestFails    ERKStepSetMaxErrTestFails
#define ARKodeRootInit              ERKStepRootInit
#define ARKodeSetNoInactiveRootWarn ERKStepSetNoInactiveRootWarn
#define ARKodeSetRootDirection      ERKStepSetRootDirection
#define ARKodeSetInitStep           ERKStepSetInitStep
#define ARKodeSetStopTime           ERKStepSetStopTime
#define ARKodeEvolve                ERKStepEvolve
#define ARKodeGetRootInfo           ERKStepGetRootInfo
#define ARKodeGetEstLocalErrors     ERKStepGetEstLocalErrors
#define ARKodeGetErrWeights         ERKStepGetErrWeights
#define ARKodeGetNumSteps           ERKStepGetNumSteps
#define ARKodeGetReturnFlagName     ERKStepGetReturnFlagName
#define ARKodeFree                  ERKStepFree
#endif

#endif
