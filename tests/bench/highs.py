"""HiGHS on models in MPS, for `cargo compare`: a model a line comes in, a result a line goes out.

In: {"model": path, "levels": number, "seconds": limit}. Out: {"values", "seconds", "columns", "rows"} with the value of
each level proven in time and "impossible" where there is no solution at all, or {"failure"}. The levels are made least one after the other, each held at what it came to, and the
solution found is handed on as a start.

Only solving is timed, not reading, in seconds of the processor, and the limit counts the same. HiGHS does not look at its clock for
minutes in some of its work; so each model is solved in a process of its own, which the system ends at the limit.
"""

import json
import math
import multiprocessing
import os
import resource
import sys
import time

import highspy


def opened(model):
    solver = highspy.Highs()
    for option, value in {"output_flag": False, "threads": 1, "parallel": "off", "mip_rel_gap": 0.0}.items():
        solver.setOptionValue(option, value)
    if solver.readModel(model) == highspy.HighsStatus.kError:
        raise ValueError(f"{model} could not be read")
    return solver


def solve(tell, model, levels, seconds):
    """Tells the size of the model, then the value of each level and the time spent by then."""
    solver = opened(model)
    tell.send((solver.getNumCol(), solver.getNumRow()))
    limit = math.ceil(time.process_time() + seconds)
    resource.setrlimit(resource.RLIMIT_CPU, (limit, limit))
    values, spent, solution = [], 0.0, None
    for level in range(levels):
        solver = opened(model)
        totals = [solver.getColByName(f"level_{number + 1}")[1] for number in range(levels)]
        for number, column in enumerate(totals):
            solver.changeColCost(column, 1.0 if number == level else 0.0)
        for column, value in zip(totals, values):
            solver.changeColBounds(column, value, value)
        if solution is not None:
            solver.setSolution(solution)
        began = time.process_time()
        solver.run()
        spent += time.process_time() - began
        if level == 0 and solver.getModelStatus() == highspy.HighsModelStatus.kInfeasible:
            tell.send((None, spent))
            return
        if solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            raise ValueError(f"{model}: {solver.getModelStatus()}")
        values.append(round(solver.getInfo().objective_function_value))
        tell.send((values[-1], spent))
        solution = solver.getSolution()


def answer(model, levels, seconds):
    here, there = multiprocessing.Pipe(duplex=False)
    before = os.times().children_user
    process = multiprocessing.Process(target=solve, args=(there, model, levels, seconds))
    process.start()
    there.close()
    told = []
    try:
        while True:
            told.append(here.recv())
    except EOFError:
        process.join()
    if not told or process.exitcode > 0:
        raise ValueError(f"{model} was not solved")
    (columns, rows), *done = told
    values = [value for value, _ in done if value is not None]
    impossible = len(values) < len(done)
    spent = done[-1][1] if impossible or len(done) == levels else os.times().children_user - before
    return {"values": values, "impossible": impossible, "seconds": spent, "columns": columns, "rows": rows}


if __name__ == "__main__":
    # HiGHS greets on standard output, which is for the answers: what it says goes where errors go.
    answers = os.fdopen(os.dup(1), "w")
    os.dup2(2, 1)
    for line in sys.stdin:
        try:
            reply = answer(**json.loads(line))
        except Exception as failure:  # whatever it is, the one who asked is to hear of it
            reply = {"failure": str(failure)}
        print(json.dumps(reply), file=answers, flush=True)
