package app

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
)

// orderInput is the pair of pickers for cylinder count and common order.
type orderInput struct {
	count, order *widget.Select
}

func (i *orderInput) load(j job.Job) {
	n := len(j.Engine.FiringOrder)
	if n >= 1 && n <= timing.MaxCylinders {
		if i.count.SelectedIndex() != n-1 {
			i.count.SetSelectedIndex(n - 1)
		}
	} else {
		i.count.ClearSelected()
	}
	var names []string
	for _, o := range timing.CommonOrders(n) {
		names = append(names, orderName(o))
	}
	if !slices.Equal(names, i.order.Options) {
		i.order.SetOptions(names)
	}
	if now := orderName(j.Engine.FiringOrder); slices.Contains(names, now) {
		if i.order.Selected != now {
			i.order.SetSelected(now)
		}
	} else if i.order.Selected != "" {
		i.order.ClearSelected()
	}
	if len(names) == 0 {
		i.order.Disable()
	} else {
		i.order.Enable()
	}
}

func (i *orderInput) keys() []string        { return nil }
func (i *orderInput) fault(string)          {}
func (i *orderInput) forget()               {}
func (i *orderInput) focus() fyne.Focusable { return i.count }
