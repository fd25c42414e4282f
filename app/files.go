package app

import (
	"bytes"
	"errors"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/lesson/plan"
	"pinphase.org/pinphase/timing/packed"
	"pinphase.org/pinphase/timing/sheet"
	"pinphase.org/pinphase/timing/store"
)

// sure carries out what would throw away unsaved changes, after asking.
func (u *ui) sure(then func()) {
	if s := u.Session; s.Saving {
		s.Next = append(s.Next, func() { u.sure(then) })
		return
	}
	if !u.Session.Dirty() {
		then()
		return
	}
	if u.asking {
		return
	}
	u.asking = true
	choose := func(f func()) func() {
		return func() {
			u.asking = false
			if f != nil {
				f()
			}
		}
	}
	u.Inquire(kit.Question{
		Title: tr("Unsaved changes"),
		Words: with("“{{.Name}}” has changes that are not saved.", map[string]any{"Name": u.Name()}),
		Answers: []kit.Reply{
			{Text: tr("Keep working"), Then: choose(nil)},
			{Text: tr("Do not save"), Then: choose(then)},
			{Text: tr("Save"), Then: choose(func() { u.save(func() { u.sure(then) }) })},
		},
		Closed: choose(nil),
	})
}

// newJob starts a job with no more than an engine.
func (u *ui) newJob() {
	u.sure(func() {
		j := job.Job{Format: 1, Engine: job.Engine{Strokes: 4, FiringOrder: timing.CommonOrders(4)[0], Rotation: u.Prefs.NewRotation().String()}}
		u.Begin(desk.NewSession("", job.New(j), nil))
		u.Prefs.SetString(desk.PrefLast, "")
	})
}

func (u *ui) openDemo() {
	u.sure(func() {
		u.Begin(desk.NewSession("", desk.Demo(), nil))
		u.Prefs.SetString(desk.PrefLast, "")
	})
}

// open lets the user choose a job file, or a lesson.
func (u *ui) open() {
	endings := append(slices.Clone(desk.JobEndings), plan.Ending)
	u.AskFile(tr("Open a job or a lesson"), endings, func(path string) {
		if desk.FileEnding(path) == plan.Ending {
			u.takeFile(path)
			return
		}
		u.sure(func() { u.openFile(path) })
	})
}

// dropped opens a job file dropped on the window, or takes a picture for the
// part's photograph.
func (u *ui) dropped(_ fyne.Position, uris []fyne.URI) {
	for _, uri := range uris {
		if slices.Contains(desk.JobEndings, strings.ToLower(uri.Extension())) {
			u.sure(func() { u.openFile(kit.PathOf(uri)) })
			return
		}
	}
	for _, uri := range uris {
		if u.takeFile(kit.PathOf(uri)) {
			return
		}
	}
	if len(uris) > 0 {
		u.Tell(errors.New(tr("That is neither a job file, which ends in .toml or .zip, nor a lesson (.lesson), nor a picture, nor a recording, which ends in .csv, .wav or .vcd.")))
	}
}

// save writes the job to its file and then goes on with what comes next.
func (u *ui) save(then func()) {
	if u.unsound() {
		return
	}
	if u.Session.Path == "" {
		u.saveAs(then)
		return
	}
	u.write(u.Session.Path, then)
}

// unsound tells whether anything in the form is wrong, and if so shows it and
// gives its field the keyboard: what is saved must be a job that can be opened
// again, and nothing typed may be left out silently.
func (u *ui) unsound() bool {
	words, key := u.Wrong()
	if words == "" {
		return false
	}
	u.Show(key)
	u.Tell(errors.New(tr("The job cannot be saved until these errors are corrected:") + "\n\n" + words))
	return true
}

// write saves to a path, after asking when another program has changed the file
// since it was read.
func (u *ui) write(path string, then func()) { u.writeJob(path, false, then) }

// errChanged stands for a file that another program has changed.
var errChanged error = changedElsewhere{fs.ErrExist}

// changedElsewhere is asked about, and never shown as a message.
type changedElsewhere struct{ error }

// writeJob saves the job as it is now, and then goes on with what comes next. The job
// may be edited meanwhile; saved again meanwhile, it is written once more afterwards.
// over writes over what another program has changed.
func (u *ui) writeJob(path string, over bool, then func()) {
	s := u.Session
	if s.Saving {
		s.Next = append(s.Next, func() { u.writeJob(path, over, then) })
		return
	}
	s.Saving = true
	from, to := u.Folder(), filepath.Dir(path)
	state, old, disk := s.Job(), s.Doc, s.Disk
	unpacked := s.Unpacked
	if s.Pictures != unpacked { // they lie elsewhere by now
		unpacked = ""
	}
	packs := desk.IsPacked(path)
	ask := path == s.Path && !over
	files := u.Files
	var doc *job.Document
	var moved map[string]string // pictures of a packed job that is saved without them
	var written, now []byte     // fingerprints: of what was to be written, and of what the file holds after a failure
	u.WriteOut(desk.Output{
		Path: path,
		Make: func() (data []byte, err error) {
			if there, err := store.Read(files, path, packed.MaxBytes); ask && err == nil && !bytes.Equal(desk.Fingerprint(there), disk) {
				return nil, errChanged
			}
			if packs { // which has names of its own for the pictures
				doc = old.With(state)
				data, err = desk.Pack(doc, from)
			} else {
				if moved, err = desk.CopyBeside(files, state, unpacked, path); err != nil {
					return nil, err
				}
				if from != to {
					state = desk.Refiled(state, from, to, moved)
				}
				doc = old.With(state)
				data = doc.Bytes()
			}
			written = desk.Fingerprint(data)
			return data, err
		},
		After: func() { // where that fails nothing is known of it
			there, _ := store.Read(files, path, packed.MaxBytes)
			now = desk.Fingerprint(there)
		},
		Done: func() {
			switch {
			case packs:
				s.Pictures = from // their names stay as they are
			case from != to:
				s.Refile(from, to, moved)
				s.Pictures = ""
			}
			s.Saved(path, doc, written)
			u.Prefs.Opened(path)
			u.saved(s, then)
		},
		Fail: func(err error) {
			s.Saving, s.Next = false, nil
			if errors.Is(err, errChanged) {
				u.Confirm(tr("Changed by another program"),
					with("“{{.Name}}” was changed by another program since it was opened. Overwrite it?", map[string]any{"Name": filepath.Base(path)}),
					tr("Overwrite"), func() { u.writeJob(path, true, then) })
				return
			}
			if doc != nil && path == s.Path && bytes.Equal(now, written) {
				s.Disk = now // it was written all the same: no other program did that
			}
			u.TellUnwritten(path, err)
		},
	})
}

// saveWithPictures asks where to save the job together with its pictures, as one file.
func (u *ui) saveWithPictures() {
	if u.unsound() {
		return
	}
	folder, name := u.Suggest(desk.PackedEnding)
	u.AskPath(tr("Save the job with its pictures"), folder, name, desk.PackedEnding, func(path string) {
		if !desk.IsPacked(path) {
			u.Tell(errors.New(tr("The file of a job with its pictures must end in .zip.")))
			return
		}
		u.writeAs(path, nil)
	})
}

// writeAs saves to a path that was just chosen. Pictures that lie outside the job's folder
// are asked about before they go along: a job from somebody else may name one that is no
// business of whoever gets the file.
func (u *ui) writeAs(path string, then func()) {
	if names := sheet.OutsidePictures(u.Session.Job(), u.Folder()); desk.IsPacked(path) && u.Session.Path != "" && len(names) > 0 {
		u.Confirm(tr("Pictures from elsewhere"),
			with("The job names pictures outside its folder: {{.Names}}. Whoever gets the file would have them.", map[string]any{"Names": strings.Join(names, ", ")}),
			tr("Take them along"), func() { u.write(path, then) })
		return
	}
	u.write(path, then)
}

// saved goes on after a session was saved: with what came next, and with what had to
// wait.
func (u *ui) saved(s *desk.Session, then func()) {
	s.Saving = false
	if u.Session == s {
		u.Changed()
	}
	u.menu.load()
	if then != nil {
		then()
	}
	if len(s.Next) > 0 {
		next := s.Next[0]
		s.Next = s.Next[1:]
		next()
	}
}

// saveAs asks where to save. It asks itself rather than through the toolkit's
// dialog, which empties an existing file before anything is written to it.
func (u *ui) saveAs(then func()) {
	if u.unsound() {
		return
	}
	ending := ".toml"
	if desk.IsPacked(u.Session.Path) {
		ending = desk.PackedEnding
	}
	folder, name := u.Suggest(ending)
	u.AskPath(tr("Save the job as"), folder, name, ending, func(path string) { u.writeAs(path, then) })
}
