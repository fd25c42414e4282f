package finding

import (
	"encoding/json"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/part/photo"
)

// The same numbers give the same answer, to the last digit of what is printed as JSON,
// whether they stand in [dowel] and [keyway] or are those of two parts.
func TestPartsAnswerAsSections(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		side, end := rapid.SampledFrom([]string{"clockwise", "anticlockwise"}), rapid.SampledFrom([]string{"", "nose", "flywheel"})
		reading := func(name string) *job.Reading {
			return &job.Reading{SeenFrom: end.Draw(t, name+" seen from"), Side: side.Draw(t, name+" side"),
				AngleDeg: job.Num(rapid.Float64Range(0, 179).Draw(t, name)), UDeg: job.Num(rapid.Float64Range(0.01, 2).Draw(t, name+" u"))}
		}
		one := job.Job{Engine: job.Engine{Strokes: 4, FiringOrder: []int{1, 3, 4, 2}}, Injection: &job.Injection{StartBTDCDeg: job.Num(10)},
			Dowel: &job.Feature{Drawing: reading("dowel drawn"), Measured: reading("dowel")}}
		if rapid.Bool().Draw(t, "with a keyway") {
			one.Keyway = &job.Feature{Drawing: reading("keyway drawn"), Measured: reading("keyway")}
		}
		two := one.Clone()
		two.Parts = []job.Part{{Name: "Spare", Dowel: reading("spare")}, {Name: "New", Use: job.UseEngine, Dowel: two.Dowel.Measured}, {Name: "Old", Use: job.UseDatum, Dowel: two.Dowel.Drawing}}
		two.Dowel = nil
		if two.Keyway != nil {
			two.Parts[1].Keyway, two.Parts[2].Keyway = two.Keyway.Measured, two.Keyway.Drawing
			two.Keyway = nil
		}
		if f := job.Check(two); len(f) > 0 {
			t.Fatal(f)
		}
		answer := func(j job.Job) string {
			j, _, err := WithPhotos(j, "", photo.InspectFile, 0)
			if err != nil {
				t.Fatal(err)
			}
			s, err := ShiftOf(j)
			if err != nil {
				t.Fatal(err)
			}
			p, err := PartOf(j)
			if err != nil {
				t.Fatal(err)
			}
			p.Parts = nil // only one of the two has any
			text, err := json.Marshal([]any{s, p})
			if err != nil {
				t.Fatal(err)
			}
			return string(text)
		}
		if a, b := answer(one), answer(two); a != b {
			t.Errorf("as sections\n%.600s\nas parts\n%.600s", a, b)
		}
	})
}
