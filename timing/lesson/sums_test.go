package lesson

import (
	"errors"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// A sum as a step shows it: numbers with +, −, × and / between, and what they make.
var sum = regexp.MustCompile(`([−-]?\d[\d.]*(?: [+−×/] [(]?[−-]?\d[\d.]*[)]?)+) = ([−-]?\d[\d.]*)`)

// worked works a sum out: × and / first, from the left.
func worked(t *testing.T, text string) float64 {
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(strings.NewReplacer("−", "-", "(", "", ")", "").Replace(s), 64)
		if err != nil {
			t.Fatalf("%q in %q: %v", s, text, err)
		}
		return v
	}
	words := strings.Fields(text)
	total, term := 0.0, number(words[0])
	for i := 1; i < len(words); i += 2 {
		v := number(words[i+1])
		switch words[i] {
		case "×":
			term *= v
		case "/":
			term /= v
		case "+":
			total, term = total+term, v
		default:
			total, term = total+term, -v
		}
	}
	return total + term
}

// Every sum in every step makes what stands after its =, as far as the two decimals
// shown go; products and quotients are of exact numbers.
func TestSumsAreExact(t *testing.T) {
	if got := worked(t, "3 × 360 / 31"); math.Abs(got-34.8387) > 1e-4 { // 1080 / 31
		t.Fatalf("3 × 360 / 31 is worked out to %g", got)
	}
	sums := 0
	for seed := range uint64(15) {
		for level := 1; level <= Levels; level++ {
			for _, k := range Kinds() {
				q, err := Make(Invent(level, seed), k, level, seed)
				if errors.Is(err, ErrUnsuited) {
					continue
				}
				if err != nil {
					t.Fatal(err)
				}
				for _, s := range q.Steps {
					for _, m := range sum.FindAllStringSubmatch(s.String(), -1) {
						sums++
						got, want := worked(t, m[1]), worked(t, m[2])
						tolerance := 0.00501 // half the last digit
						if strings.ContainsAny(m[1], "+−") {
							tolerance = 0.0151 // what is added was rounded as well
						}
						if math.Abs(got-want) > tolerance {
							t.Errorf("%s, level %d: %q makes %.4f, in %q", k, level, m[0], got, s)
						}
					}
				}
			}
		}
	}
	if sums < 500 {
		t.Errorf("only %d sums were found", sums)
	}
}
