package app

import (
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/timing/job"
)

func demoSession(t interface{ Fatal(...any) }) *desk.Session {
	doc, err := job.Read("demo", assets.DemoJob)
	if err != nil {
		t.Fatal(err)
	}
	return desk.NewSession("", doc, nil)
}

func titled(j job.Job, title string) job.Job {
	n := j.Clone()
	n.Title = title
	return n
}

func TestEditsOfOneThingAreOneUndoStep(t *testing.T) {
	s := demoSession(t)
	first := s.Job()
	for _, title := range []string{"a", "ab", "abc"} {
		s.Edit("title", titled(s.Job(), title))
	}
	s.Seal()
	s.Edit("title", titled(s.Job(), "abcd"))
	if !s.Undo() || s.Job().Title != "abc" {
		t.Errorf("one undo gives %q, want abc", s.Job().Title)
	}
	if !s.Undo() || !s.Job().Equal(first) || s.Undo() {
		t.Errorf("a second undo gives %q, want the job as opened, and no third", s.Job().Title)
	}
	redone := 0
	for s.Redo() {
		redone++
	}
	if redone != 2 || s.Job().Title != "abcd" {
		t.Errorf("redo went %d steps, to %q", redone, s.Job().Title)
	}
}

func TestFiguresKeepTheLastSoundJob(t *testing.T) {
	s := demoSession(t)
	bad := s.Job().Clone()
	bad.Engine.CompressionRatio = job.Num(0.5)
	s.Edit("engine.compression_ratio", bad)
	if len(s.Faults()) == 0 {
		t.Fatal("a compression ratio of 0.5 must be a fault")
	}
	if got := s.Sound().Engine.CompressionRatio.Value; got != 17 {
		t.Errorf("the sound job has ratio %g, want the demo's 17", got)
	}
	if !s.Dirty() {
		t.Error("an edited job is unsaved")
	}
	s.Undo()
	if s.Dirty() || len(s.Faults()) != 0 {
		t.Error("undone, the job is as its file again")
	}
}

func TestUndoReturnsEveryState(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := demoSession(t)
		states := []job.Job{s.Job()}
		for i := range rapid.IntRange(1, 30).Draw(t, "edits") {
			s.Edit("title", titled(s.Job(), rapid.StringN(1, 5, -1).Draw(t, "title")+string(rune('a'+i))))
			s.Seal()
			states = append(states, s.Job())
		}
		for i := len(states) - 1; i >= 0; i-- {
			if !s.Job().Equal(states[i]) {
				t.Fatalf("state %d is %q, want %q", i, s.Job().Title, states[i].Title)
			}
			s.Undo()
		}
	})
}
