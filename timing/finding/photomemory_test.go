package finding

import (
	"fmt"
	"reflect"
	"testing"

	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/part/photo"
)

// manyPhotographed is a job with so many parts, dowel and keyway of each on a photograph.
func manyPhotographed(t testing.TB, parts int) job.Job {
	t.Helper()
	face := job.Reading{Method: "photo", File: "nose.jpg",
		Rim:    []job.Point{{X: 1072.4, Y: 525.9}, {X: 1027.2, Y: 711.6}, {X: 902.4, Y: 793.1}, {X: 834.2, Y: 801.6}, {X: 691.6, Y: 743.1}, {X: 624.4, Y: 639.5}, {X: 746.9, Y: 362.6}},
		Keyway: []job.Point{{X: 783.5, Y: 348.1}, {X: 837.8, Y: 340.6}}}
	dowel, keyway := face, face
	dowel.Dowel, keyway.Throw = []job.Point{{X: 792, Y: 436.8}}, []job.Point{{X: 900, Y: 700}}
	j := job.Job{Format: 2, Engine: job.Engine{Strokes: 4, FiringOrder: []int{1, 3, 4, 2}}}
	for i := range parts {
		p := job.Part{Name: fmt.Sprint("Crankshaft ", i), Dowel: new(job.Reading), Keyway: new(job.Reading)}
		*p.Dowel, *p.Keyway = dowel, keyway
		j.Parts = append(j.Parts, p)
	}
	j.Parts[0].Use, j.Parts[min(1, parts-1)].Use = job.UseDatum, job.UseEngine
	return j.Clone()
}

func noInfo(string) (photo.Info, error) { return photo.Info{Width: 1600, Height: 1200}, nil }

// What is remembered is what is measured, also after points, picture and fineness were
// changed, and with marks that give no angle.
func TestPhotoMemory(t *testing.T) {
	memory := PhotoMemory{}
	j := manyPhotographed(t, 3)
	inspect := noInfo
	same := func(what string, draws int) {
		t.Helper()
		wantJob, want, wantErr := WithPhotos(j, "", inspect, draws)
		gotJob, got, err := memory.WithPhotos(j, "", inspect, draws)
		if !gotJob.Equal(wantJob) || !reflect.DeepEqual(got, want) || fmt.Sprint(err) != fmt.Sprint(wantErr) {
			t.Errorf("%s: remembered %v, %v; measured %v, %v", what, got, err, want, wantErr)
		}
	}
	same("at first", 100)
	same("again", 100)
	same("finer", 0)
	j.Parts[1].Dowel.Dowel[0].X += 3
	same("moved", 0)
	inspect = func(string) (photo.Info, error) { return photo.Info{Width: 1600, Height: 1200, FocalPx: 1300}, nil }
	same("another lens", 0)
	rim := j.Parts[2].Keyway.Rim
	j.Parts[2].Keyway.Rim = nil
	same("without a rim", 0)
	j.Parts[2].Keyway.Rim = rim
	same("with it again", 0)
	before, _, _ := memory.WithPhotos(j, "", inspect, 0)
	if after, _, _ := memory.WithPhotos(j, "", inspect, 50); !after.Equal(before) {
		t.Error("asked for coarsely, what is known finely is measured anew")
	}
}

func BenchmarkTwentyParts(b *testing.B) {
	j := manyPhotographed(b, 20)
	b.Run("all anew", func(b *testing.B) {
		for b.Loop() {
			WithPhotos(j, "", noInfo, 0)
		}
	})
	b.Run("one point moved", func(b *testing.B) {
		memory := PhotoMemory{}
		memory.WithPhotos(j, "", noInfo, 0)
		for i := 0; b.Loop(); i++ {
			j.Parts[7].Dowel.Dowel[0].X = 792 + float64(i%5)
			memory.WithPhotos(j, "", noInfo, 200)
		}
	})
}
