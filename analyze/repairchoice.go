package analyze

import (
	"fmt"
	"math"
)

// RepairChoice is what each thing that can be done next risks in money, by a
// shop's own figures and the probabilities of the verdict; package cost works it out.
type RepairChoice struct {
	File     string `json:"file"`
	Currency string `json:"currency,omitempty"`

	// Choices are those offered, cheapest in all first, then the others. Without
	// all prices they come in the order of the parts.
	Choices []Choice `json:"choices"`

	// Best is nil where not all repairs have a price, or a comeback has none:
	// what a first choice costs in all depends on what follows it.
	Best *BestChoice `json:"best,omitempty"`

	// Perfect is what knowing the fault for certain would save on average: no
	// test is worth more. Tests lists those of the catalogue: the one that comes
	// first in the verdict, then by what is left of their worth. Moved is set where
	// these prices put that one first.
	Perfect float64     `json:"perfect_information"`
	Tests   []TestWorth `json:"tests"`
	Moved   *MovedTest  `json:"moved_first,omitempty"`

	Renewal *Renewal `json:"renewal,omitempty"` // nil without a price

	Missing []string `json:"missing"` // lines of the prices file that something waits for
	Assumed []string `json:"assumed"`
}

// Choice is one thing to do first.
type Choice struct {
	Do      string   `json:"do"`    // as an order
	Parts   []string `json:"parts"` // that are put right; none for waiting
	Cures   float64  `json:"cures"` // chance that it is one of these; for waiting, that nothing is broken
	Offered bool     `json:"offered"`
	Returns float64  `json:"comes_back"` // chance of at least one comeback, going on as is best; of one after this visit where that has no price

	Now      *float64 `json:"now,omitempty"`      // money of the first visit
	Bought   float64  `json:"parts_price"`        // of it, that of the parts
	Hours    float64  `json:"hours"`              // of it, those of work
	Expected *float64 `json:"expected,omitempty"` // in all, going on as is best
	Least    *float64 `json:"cheapest,omitempty"` // in all, the luckiest way
	Most     *float64 `json:"dearest,omitempty"`  // in all, the unluckiest way
	Then     []string `json:"then,omitempty"`     // what follows when it did not cure
	Missing  []string `json:"missing,omitempty"`  // lines without which it has no price
}

// BestChoice is the first choice that is cheapest on average of those offered.
type BestChoice struct {
	Do        string  `json:"do"`
	Saves     float64 `json:"saves"`               // against the next best
	Next      string  `json:"next_best,omitempty"` // and which that is; empty where no other is offered
	WaitSaves float64 `json:"waiting_saves"`       // by leaving it, on average, where that is not offered
	Flips     []Flip  `json:"flips"`               // how far the probabilities can be off, nearest first
}

// Flip is a probability at which another first choice becomes the best.
type Flip struct {
	Part string  `json:"part"` // at fault; "none" for no fault
	Now  float64 `json:"now"`  // its probability by the verdict
	At   float64 `json:"at"`   // and where the choice flips, the others kept in proportion
	Then string  `json:"then"` // the best choice beyond
}

// TestWorth is what a test is worth in money before anything is repaired: nothing where
// each outcome leads to the same choice.
type TestWorth struct {
	Name    string     `json:"name"`
	Minutes float64    `json:"minutes"`
	Cost    float64    `json:"cost"`  // minutes at the labour rate
	Worth   float64    `json:"worth"` // expected value of sample information
	Net     float64    `json:"net"`
	Then    []TestThen `json:"then"`
}

// TestThen is the best choice after one outcome of a test.
type TestThen struct {
	If       string  `json:"if"`
	Chance   float64 `json:"chance"`
	Do       string  `json:"do"`
	Cures    float64 `json:"cures"`    // chance that it cures then; for waiting, that nothing is broken
	Expected float64 `json:"expected"` // in all

	// Likeliest is the part that is likeliest at fault then ("none" for no fault), and how
	// likely: money can speak for trying another first.
	Likeliest       string  `json:"likeliest_part"`
	LikeliestChance float64 `json:"likeliest_chance"`
}

// Amount says money in whole units, after the currency where there is one.
func Amount(currency string, x float64) string {
	if currency != "" {
		currency += " "
	}
	if x > 0 && x < 0.5 {
		return "less than " + currency + "1"
	}
	return currency + fmt.Sprintf("%.0f", math.Abs(x)) // no minus before a zero
}

// MovedTest is the test that would come first without a shop's prices, by what it
// tells for its time, and what is left of its worth in money.
type MovedTest struct {
	Before string  `json:"before"` // its name
	Net    float64 `json:"net"`
}

// Renewal is whether to renew the actuator while the dashboard is open for
// something else.
type Renewal struct {
	Opened    float64  `json:"opened"`     // chance that it is to be opened for another part
	Now       float64  `json:"now"`        // money while open
	Later     float64  `json:"later"`      // money when it fails, opening again
	BreakEven float64  `json:"break_even"` // chance of failing from which it pays
	Chance    *float64 `json:"chance,omitempty"`
	Months    float64  `json:"months,omitempty"`
	Pays      bool     `json:"pays"`
	Note      string   `json:"note,omitempty"`
}
