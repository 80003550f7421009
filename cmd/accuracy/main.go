// Accuracy makes captures with a known truth on the rig, lets the analysis
// judge them and reports how often it was right and how sure to be.
//
// The rig's Narrow range is for fitting, its Wide range (other motors,
// controllers and instruments) for judging; both are reported.
package main

import (
	"context"
	"os"
)

func main() { os.Exit(run(context.Background(), os.Args[1:], os.Stdout, os.Stderr)) }
