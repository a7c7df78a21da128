package main

import (
	"errors"
	"fmt"
	"io"
	"log"
	"math"
	"os"
	"os/exec"
	"strings"
	"syscall"
	"time"
)

// run is a program to measure.
type run struct {
	args  []string
	env   []string
	exit  int       // the status it ends with when all is well
	input io.Reader // of a single run; nil is nothing
}

// cost is the least a program took over several turns.
type cost struct {
	wall, cpu time.Duration // cpu is user and system time of all cores
	memory    int64         // the most over all turns, in bytes
}

func (c cost) String() string {
	return fmt.Sprintf("%s (CPU %s)", short(c.wall), short(c.cpu))
}

func short(d time.Duration) string {
	if d < 100*time.Millisecond {
		return fmt.Sprintf("%.2f ms", float64(d)/1e6)
	}
	return fmt.Sprintf("%.2f s", d.Seconds())
}

// alternate runs the programs in turns. What they print is thrown away; a program
// that fails ends the measurement.
func alternate(turns int, runs ...run) []cost {
	costs := make([]cost, len(runs))
	for i := range costs {
		costs[i] = cost{wall: math.MaxInt64, cpu: math.MaxInt64}
	}
	for range turns {
		for i, r := range runs {
			c := r.once()
			costs[i].wall = min(costs[i].wall, c.wall)
			costs[i].cpu = min(costs[i].cpu, c.cpu)
			costs[i].memory = max(costs[i].memory, c.memory)
		}
	}
	return costs
}

func (r run) once() cost {
	cmd := exec.Command(r.args[0], r.args[1:]...)
	cmd.Env = append(os.Environ(), r.env...)
	cmd.Stdin = r.input
	var complaint strings.Builder
	cmd.Stderr = &complaint
	from := time.Now()
	err := cmd.Run()
	took := time.Since(from)
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) {
		log.Fatal(err)
	}
	if got := cmd.ProcessState.ExitCode(); got != r.exit {
		log.Fatalf("%s ended with %d, not %d: %.500s", strings.Join(r.args, " "), got, r.exit, complaint.String())
	}
	usage := cmd.ProcessState.SysUsage().(*syscall.Rusage)
	return cost{took, cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime(), usage.Maxrss << 10}
}

func ratio(a, b time.Duration) float64 { return float64(a) / float64(b) }

// compared makes a row of two programs.
func compared(what string, ours, theirs cost, goal, bound limit) row {
	return row{what: what, ours: ours.String(), theirs: theirs.String(), ratio: ratio(ours.wall, theirs.wall),
		cpu: ratio(ours.cpu, theirs.cpu), goal: goal, bound: bound}
}
