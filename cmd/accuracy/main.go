// Accuracy makes captures with a known truth on the rig, lets the analysis
// judge them and reports how often it was right, how sure to be, and how well
// it measured what it found.
//
// Three ranges of the rig: "narrow" is for fitting, "wide" (other motors,
// controllers and instruments) for developing, "other" (another kind of bench)
// for robustness. Likelihoods and calibration are fitted with --first-seed below
// 1e9; without the flag the bench takes the seeds kept for judging, on which
// nobody may fit. With --foreign the captures come from a second simulator,
// which somebody else wrote.
package main

import (
	"context"
	"os"
	"os/signal"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	os.Exit(run(ctx, os.Args[1:], os.Stdout, os.Stderr))
}
