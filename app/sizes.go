package app

import (
	"fyne.io/fyne/v2/widget"

	"pinphase/timing/finding"
	"pinphase/timing/part"
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
		list = append(list, size{d, with("{{.Size}} mm pin (ISO 8734, from memory)", map[string]any{"Size": millimetres(d)})})
	}
	return list
}

// keySizes are the widths of the standard keys, each once.
func keySizes() []size {
	var list []size
	for _, k := range part.Keys {
		list = append(list, size{k.Width, with("{{.Size}} mm parallel key, shafts over {{.Over}} to {{.UpTo}} mm (DIN 6885-1)",
			map[string]any{"Size": millimetres(k.Width), "Over": millimetres(k.Over), "UpTo": millimetres(k.UpTo)})})
	}
	last := 0.0
	for _, w := range part.Woodruffs {
		if w.Width == last {
			continue
		}
		last = w.Width
		text := "{{.Size}} mm Woodruff key (DIN 6888)"
		if w.FromMemory {
			text = "{{.Size}} mm Woodruff key (ISO 3912, from memory)"
		}
		list = append(list, size{w.Width, with(text, map[string]any{"Size": millimetres(w.Width)})})
	}
	return list
}

func millimetres(v float64) string { return finding.Num{Value: v, Decimals: 1}.String() }

// newSizePicker returns a list of standard sizes that puts the one picked into a
// field. It shows no size itself: what counts stands in the field.
func newSizePicker(sizes []size, pick func(text string)) *widget.Select {
	names := make([]string, len(sizes))
	for i, s := range sizes {
		names[i] = s.name
	}
	list := widget.NewSelect(names, nil)
	list.PlaceHolder = tr("Sizes")
	list.OnChanged = func(string) {
		if i := list.SelectedIndex(); i >= 0 {
			list.ClearSelected()
			pick(millimetres(sizes[i].mm))
		}
	}
	return list
}
