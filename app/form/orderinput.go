package form

import (
	"slices"

	"fyne.io/fyne/v2"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
)

// orderInput is the pair of pickers for cylinder count and common order.
type orderInput struct {
	Count, Order *kit.Select
}

func (i *orderInput) Load(j job.Job) {
	n := len(j.Engine.FiringOrder)
	if n >= 1 && n <= timing.MaxCylinders {
		if i.Count.SelectedIndex() != n-1 {
			i.Count.SetSelectedIndex(n - 1)
		}
	} else {
		i.Count.ClearSelected()
	}
	var names []string
	for _, o := range timing.CommonOrders(n) {
		names = append(names, timing.OrderText(o))
	}
	if !slices.Equal(names, i.Order.Options) {
		i.Order.SetOptions(names)
	}
	if now := timing.OrderText(j.Engine.FiringOrder); slices.Contains(names, now) {
		if i.Order.Selected != now {
			i.Order.SetSelected(now)
		}
	} else if i.Order.Selected != "" {
		i.Order.ClearSelected()
	}
	if len(names) == 0 {
		i.Order.Disable()
	} else {
		i.Order.Enable()
	}
}

func (i *orderInput) keys() []string        { return nil }
func (i *orderInput) fault(string)          {}
func (i *orderInput) asks(string)           {}
func (i *orderInput) Forget()               {}
func (i *orderInput) Focus() fyne.Focusable { return i.Count }
