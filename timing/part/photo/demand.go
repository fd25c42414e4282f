package photo

import "pinphase.org/pinphase/timing/phrase"

// Demand is what decoding a picture takes at most, by what its header says.
type Demand struct {
	Bytes  int64 // of memory, the decoded picture among them
	advice phrase.Text
}

// What would make a picture take less.
const (
	smaller        = phrase.Text("save it smaller")
	notProgressive = phrase.Text("save it smaller, or as a JPEG that is not progressive")
	eightBits      = phrase.Text("save it smaller, or with 8 bits a channel")
	notInterlaced  = phrase.Text("save it smaller, or not interlaced")
)

// DemandOf reads what decoding a picture takes without decoding it.
func DemandOf(data []byte) (Demand, error) {
	h, err := inspect(data)
	return h.demand, err
}

// Check refuses a picture whose decoding takes more than so many bytes, with more
// for what is made of it. The error is one line and does not name the file.
func (d Demand) Check(more, most int64) error {
	if all := d.Bytes + more; all > most {
		return phrase.Errorf("takes %d MiB to decode, and at most %d are used; %s", (all+1<<20-1)>>20, most>>20, d.advice)
	}
	return nil
}
