package form

import (
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/part"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/quantity"
)

// size is a standard size that a field can be filled with.
type size struct {
	mm   float64
	name string // with where it comes from
}

// pinSizes are the standard dowel pins.
func pinSizes() []size {
	var list []size
	for _, d := range part.Dowels {
		list = append(list, size{d, with("{{.Size}} dowel pin (ISO 8734, not checked against the source)", map[string]any{"Size": quantity.Length(d, 1)})})
	}
	return list
}

// keySizes are the widths of the standard keys, each once.
func keySizes() []size {
	var list []size
	for _, k := range part.Keys {
		list = append(list, size{k.Width, with("{{.Size}} parallel key, shafts over {{.Over}} to {{.UpTo}} (DIN 6885-1)",
			map[string]any{"Size": quantity.Length(k.Width, 1), "Over": quantity.Length(k.Over, 1).Plain(), "UpTo": quantity.Length(k.UpTo, 1)})})
	}
	last := 0.0
	for _, w := range part.Woodruffs {
		if w.Width == last {
			continue
		}
		last = w.Width
		text := phrase.Text("{{.Size}} Woodruff key (DIN 6888)")
		if w.FromMemory {
			text = "{{.Size}} Woodruff key (ISO 3912, not checked against the source)"
		}
		list = append(list, size{w.Width, with(text, map[string]any{"Size": quantity.Length(w.Width, 1)})})
	}
	return list
}

// newSizePicker returns a list of standard sizes that puts the one picked into a
// field. It shows no size itself: what counts stands in the field.
func newSizePicker(sizes []size, pick func(text string)) *kit.Select {
	names := make([]string, len(sizes))
	for i, s := range sizes {
		names[i] = s.name
	}
	list := kit.NewSelect(names, nil)
	list.PlaceHolder = tr("Sizes")
	list.OnChanged = func(string) {
		if i := list.SelectedIndex(); i >= 0 {
			list.ClearSelected()
			pick(ShowNumber(job.Num(sizes[i].mm), "mm"))
		}
	}
	return list
}
