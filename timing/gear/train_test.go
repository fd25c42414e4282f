package gear

import (
	"fmt"
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
)

func train(t testing.TB, teeth ...int) Train {
	t.Helper()
	tr, err := NewTrain(teeth[0], teeth[1:len(teeth)-1], teeth[len(teeth)-1])
	if err != nil {
		t.Fatal(err)
	}
	return tr
}

// Hand calculation: the least common multiple of the tooth numbers over each of
// them. 11 and 30 teeth repeat after 11 turns of the gear of 30: a published
// example of hunting teeth (Gleason Corporation, gear technology solutions).
func TestMarksMeetAgain(t *testing.T) {
	for _, c := range []struct {
		teeth []int
		steps int64
		turns []int64
	}{
		{[]int{36, 72}, 72, []int64{2, 1}},
		{[]int{24, 35}, 840, []int64{35, 24}},
		{[]int{11, 30}, 330, []int64{30, 11}},
		{[]int{36, 47, 72}, 3384, []int64{94, 72, 47}},
		{[]int{40, 53, 80}, 4240, []int64{106, 80, 53}},
		{[]int{30, 45, 60}, 180, []int64{6, 4, 3}},
		{[]int{32, 32}, 32, []int64{1, 1}},
	} {
		tr := train(t, c.teeth...)
		if got := tr.StepsUntilMarksMeet(); got.Int64() != c.steps {
			t.Errorf("%v: marks meet after %v teeth, want %d", c.teeth, got, c.steps)
		}
		for i, want := range c.turns {
			if got := tr.TurnsUntilMarksMeet(i); got.Int64() != want {
				t.Errorf("%v: wheel %d has made %v turns, want %d", c.teeth, i+1, got, want)
			}
		}
	}
}

// Hand calculation: one tooth of 36 is 10 crank degrees; of 28, 12.857142857; a
// tooth of the cam gear of 72 is 5 cam degrees, the same 10 crank degrees.
func TestOneToothOut(t *testing.T) {
	for _, c := range []struct {
		teeth []int
		want  timing.Deg
	}{{[]int{36, 72}, 10}, {[]int{36, 53, 72}, 10}, {[]int{28, 56}, 12.857142857142858}} {
		tr := train(t, c.teeth...)
		if got := tr.CrankPerTooth(); math.Abs(float64(got-c.want)) > 1e-12 {
			t.Errorf("%v: a tooth is %g crank degrees, want %g", c.teeth, float64(got), float64(c.want))
		}
	}
	cam := timing.Turn / 72
	if got := timing.CamDeg(cam).Crank(720); got != train(t, 36, 72).CrankPerTooth() {
		t.Errorf("a tooth of the cam gear is %g crank degrees", float64(got))
	}
	if got := train(t, 36, 72).CamError(3, -2); got != -17 {
		t.Errorf("two teeth behind and a keyway 3 ahead put the cam %g ahead", float64(got))
	}
}

func TestMeshes(t *testing.T) {
	for _, c := range []struct {
		mesh          Mesh
		phases, turns int
		hunting       bool
	}{{Mesh{11, 30}, 1, 30, true}, {Mesh{30, 45}, 15, 3, false}, {Mesh{36, 53}, 1, 53, true}, {Mesh{20, 20}, 20, 1, false}} {
		if c.mesh.Phases() != c.phases || c.mesh.DriverTurns() != c.turns || c.mesh.Hunting() != c.hunting {
			t.Errorf("%+v: %d phases, %d turns, hunting %v", c.mesh, c.mesh.Phases(), c.mesh.DriverTurns(), c.mesh.Hunting())
		}
	}
	if got := fmt.Sprint(train(t, 36, 53, 72).Meshes()); got != "[{36 53} {53 72}]" {
		t.Errorf("meshes %s", got)
	}
}

func TestImpossibleTeeth(t *testing.T) {
	for _, teeth := range [][]int{{0, 72}, {36, -1, 72}, {36, 10001}} {
		if _, err := NewTrain(teeth[0], teeth[1:len(teeth)-1], teeth[len(teeth)-1]); err == nil {
			t.Errorf("%v was taken for a train", teeth)
		}
	}
}

// A hundred idlers of prime tooth numbers: the count stays exact.
func TestLongTrain(t *testing.T) {
	var primes []int
	product := big.NewInt(1)
	for n := 2; len(primes) < 100; n++ {
		if big.NewInt(int64(n)).ProbablyPrime(0) {
			primes = append(primes, n)
			product.Mul(product, big.NewInt(int64(n)))
		}
	}
	tr, err := NewTrain(1, primes, 2)
	if err != nil {
		t.Fatal(err)
	}
	if got := tr.TurnsUntilMarksMeet(0); got.Cmp(product) != 0 {
		t.Errorf("marks meet after %v turns, want %v", got, product)
	}
}

// Where the marks meet again every wheel has made whole turns, and at no earlier
// whole turn of the crank have all of them (tried one by one).
func TestNoEarlierMeeting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		teeth := rapid.SliceOfN(rapid.IntRange(1, 30), 2, 4).Draw(t, "teeth")
		tr, err := NewTrain(teeth[0], teeth[1:len(teeth)-1], teeth[len(teeth)-1])
		if err != nil {
			t.Fatal(err)
		}
		want := int(tr.TurnsUntilMarksMeet(0).Int64())
		for turns := 1; turns <= want; turns++ {
			all := true
			for i := range teeth {
				all = all && turns*teeth[0]%teeth[i] == 0
			}
			if all != (turns == want) {
				t.Fatalf("%v: marks meet after %d turns, not %d", teeth, turns, want)
			}
		}
		// Teeth that mesh pass together, in opposite senses.
		theta := timing.Deg(rapid.Float64Range(-2000, 2000).Draw(t, "theta"))
		for i := range len(teeth) - 1 {
			a, b := tr.Angle(i, theta)*timing.Deg(teeth[i]), tr.Angle(i+1, theta)*timing.Deg(teeth[i+1])
			if math.Abs(float64(a+b)) > 1e-6 {
				t.Fatalf("wheels %d and %d pass %g and %g", i, i+1, float64(a), float64(b))
			}
		}
	})
}

// Why do the marks of a train with an idler not line up after two turns?
func ExampleTrain_TurnsUntilMarksMeet() {
	t, err := NewTrain(36, []int{47}, 72)
	if err != nil {
		panic(err)
	}
	fmt.Println("crank and cam marks:", t.CrankTurnsUntilCamMark(), "crankshaft turns")
	fmt.Println("all marks:", t.TurnsUntilMarksMeet(0), "crankshaft turns")
	// Output:
	// crank and cam marks: 2 crankshaft turns
	// all marks: 94 crankshaft turns
}
