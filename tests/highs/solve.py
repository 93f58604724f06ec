#!/usr/bin/env python3
"""Solves a program of yes-or-no choices with HiGHS, with no gap allowed. JSON on standard input and output: see mod.rs."""

import json
import sys

import highspy
import numpy

STATUS = {
    highspy.HighsModelStatus.kOptimal: "optimal",
    highspy.HighsModelStatus.kInfeasible: "infeasible",
}


def limit(value, otherwise):
    return otherwise if value is None else value


def main():
    program = json.load(sys.stdin)
    count, infinity = len(program["costs"]), highspy.kHighsInf
    lp = highspy.HighsLp()
    lp.num_col_ = count
    lp.num_row_ = len(program["limits"])
    lp.col_cost_ = numpy.array(program["costs"], dtype=float)
    lp.col_lower_ = numpy.zeros(count)
    lp.col_upper_ = numpy.ones(count)
    lp.integrality_ = [highspy.HighsVarType.kInteger] * count
    lp.row_lower_ = numpy.array([limit(row[0], -infinity) for row in program["limits"]], dtype=float)
    lp.row_upper_ = numpy.array([limit(row[1], infinity) for row in program["limits"]], dtype=float)
    lp.a_matrix_.format_ = highspy.MatrixFormat.kColwise
    lp.a_matrix_.start_ = numpy.array(program["starts"], dtype=numpy.int32)
    lp.a_matrix_.index_ = numpy.array(program["rows"], dtype=numpy.int32)
    lp.a_matrix_.value_ = numpy.array(program["values"], dtype=float)
    highs = highspy.Highs()
    highs.setOptionValue("output_flag", False)
    highs.setOptionValue("mip_rel_gap", 0.0)
    highs.setOptionValue("mip_abs_gap", 1e-6)
    highs.setOptionValue("random_seed", 1)
    highs.passModel(lp)
    highs.run()
    status = highs.getModelStatus()
    solved = status == highspy.HighsModelStatus.kOptimal
    values = highs.getSolution().col_value if solved else []
    json.dump({
        "status": STATUS.get(status, str(status)),
        "taken": [choice for choice, value in enumerate(values) if value > 0.5],
        "bound": highs.getInfo().mip_dual_bound if solved else None,
        "seconds": highs.getRunTime(),
    }, sys.stdout)


if __name__ == "__main__":
    main()
