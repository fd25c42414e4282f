package sheet

import (
	"context"
	"image"
	"maps"
	"slices"
	"time"

	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/part/photo"
	"pinphase.org/pinphase/timing/phrase"
)

// Pictures reads the photographs of a job for its sheet.
type Pictures struct {
	Folder string // that of the job's file, to which the pictures' names are relative
	// Outside lets pictures that lie outside the folder be shown: see [photo.OutsideFolder].
	// Without it the sheet says so in their place.
	Outside bool
	// Time is how long one picture may take to decode; 0 is as long as it likes.
	Time time.Duration
	// Load decodes a file: that of package picture or of package pixels.
	Load func(ctx context.Context, path string, longest int) (*image.RGBA, photo.Info, error)
}

// longestRead is how long in px a picture's longer side is kept: more than is printed
// of it.
const longestRead = 4800

// Read returns a picture as [Input.Picture] wants it. The error is one line
// that names the file.
func (p Pictures) Read(file string) (image.Image, photo.Info, error) {
	if !p.Outside && photo.OutsideFolder(p.Folder, file) {
		return nil, photo.Info{}, phrase.Errorf("%s: is outside the job's folder; it is shown only on request", file)
	}
	ctx := context.Background()
	if p.Time > 0 {
		var cancel func()
		ctx, cancel = context.WithTimeout(ctx, p.Time)
		defer cancel()
	}
	img, info, err := p.Load(ctx, photo.InFolder(p.Folder, file), longestRead)
	if err != nil {
		return nil, photo.Info{}, err
	}
	return img, info, nil
}

// OutsideShown are the names of the pictures outside the job's folder that a job's sheet
// would show: of what is compared, which leaves out the other parts.
func OutsideShown(j job.Job, folder string) []string {
	j = j.Compared()
	j.Parts = nil
	return OutsidePictures(j, folder)
}

// OutsidePictures are the names of the pictures of a job, those of its parts too, that
// lie outside the job's folder.
func OutsidePictures(j job.Job, folder string) (names []string) {
	files := j.Pictures()
	for _, key := range slices.Sorted(maps.Keys(files)) {
		if name := files[key]; name != "" && photo.OutsideFolder(folder, name) {
			names = append(names, name)
		}
	}
	return names
}
