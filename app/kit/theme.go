package kit

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
	"golang.org/x/image/font/gofont/gomono"

	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/timing/figure"
)

// The choices of theme and text size, as kept in the preferences.
var (
	ThemeChoices = []string{"system", "light", "dark", "light-contrast", "dark-contrast"}
	TextSizes    = []float64{0.85, 1, 1.25, 1.5, 2}
)

// Look is the program's theme: one font everywhere, the colours of the figures,
// and every size multiplied by the user's text size.
type Look struct {
	Choice string  // of themeChoices
	Scale  float32 // of textSizes
}

// TextFor is the size of text in a window of some size until the user chooses one:
// on a screen with a great many points, the ordinary one is too small to read.
func TextFor(window fyne.Size) float64 {
	switch {
	case window.Width >= 3000 && window.Height >= 1700:
		return 2
	case window.Width >= 2300 && window.Height >= 1200:
		return 1.25
	}
	return 1
}

var codeFont = fyne.NewStaticResource("code.ttf", gomono.TTF)

var regularFont, boldFont = fyne.NewStaticResource("regular.ttf", assets.FontRegular), fyne.NewStaticResource("bold.ttf", assets.FontBold)

// Font implements [fyne.Theme].
func (l *Look) Font(s fyne.TextStyle) fyne.Resource {
	switch {
	case s.Symbol:
		return theme.DefaultTheme().Font(s)
	case s.Monospace: // the manual's code, whose columns are to stand below each other
		return codeFont
	case s.Bold:
		return boldFont
	}
	return regularFont
}

// Icon implements [fyne.Theme].
func (l *Look) Icon(n fyne.ThemeIconName) fyne.Resource { return theme.DefaultTheme().Icon(n) }

// BaseText is the size of ordinary text: a little larger than usual, for a
// laptop on a workbench.
const BaseText = 15

// Size implements [fyne.Theme].
func (l *Look) Size(n fyne.ThemeSizeName) float32 {
	var s float32
	switch n {
	case theme.SizeNameText:
		s = BaseText
	case theme.SizeNameCaptionText:
		s = 13
	case theme.SizeNameHeadingText:
		s = 24
	case theme.SizeNameSubHeadingText:
		s = 19
	case theme.SizeNameScrollBar:
		s = 14
	case theme.SizeNameScrollBarSmall:
		s = 5
	case theme.SizeNameSeparatorThickness:
		return 1
	case theme.SizeNameModalBlurRadius:
		return 0 // where there is no graphics card, blurring what lies below a dialog makes every key in it wait
	case theme.SizeNameInnerPadding:
		s = 6
	default:
		s = theme.DefaultTheme().Size(n)
	}
	return s * l.Scale
}

// The styles of the screen, made once: every widget asks for several colours each
// time it is painted. High contrast is what a projector has.
var (
	lightStyle, darkStyle       = figure.Light(), figure.Dark()
	lightContrast, darkContrast = figure.BoardLight(), figure.BoardDark()
)

// Dark tells whether the theme is dark on a system that prefers a variant.
func (l *Look) Dark(system fyne.ThemeVariant) bool {
	switch l.Choice {
	case "light", "light-contrast":
		return false
	case "dark", "dark-contrast":
		return true
	}
	return system == theme.VariantDark
}

func (l *Look) style(system fyne.ThemeVariant) *figure.Style {
	switch dark := l.Dark(system); {
	case l.contrast() && dark:
		return &darkContrast
	case l.contrast():
		return &lightContrast
	case dark:
		return &darkStyle
	}
	return &lightStyle
}

func (l *Look) contrast() bool { return l.Choice == "light-contrast" || l.Choice == "dark-contrast" }

// FigureStyle is how figures look in the present theme.
func (l *Look) FigureStyle() figure.Style {
	return *l.style(fyne.CurrentApp().Settings().ThemeVariant())
}

// Color implements [fyne.Theme].
func (l *Look) Color(n fyne.ThemeColorName, v fyne.ThemeVariant) color.Color {
	st := l.style(v)
	if l.Dark(v) {
		v = theme.VariantDark
	} else {
		v = theme.VariantLight
	}
	switch n {
	case theme.ColorNameBackground:
		return st.Color(figure.Surface)
	case theme.ColorNameForeground:
		return st.Color(figure.Ink)
	case theme.ColorNamePlaceHolder, theme.ColorNameDisabled:
		return st.Color(figure.Faint)
	case theme.ColorNameError:
		return st.Color(figure.Warning)
	case theme.ColorNamePrimary, theme.ColorNameHyperlink:
		return st.Color(figure.Commanded)
	case theme.ColorNameFocus:
		if l.contrast() {
			return st.Color(figure.Commanded)
		}
		return alpha(st.Color(figure.Commanded), 0x70)
	case theme.ColorNameSelection:
		return alpha(st.Color(figure.Commanded), 0x40)
	case theme.ColorNameForegroundOnPrimary, theme.ColorNameForegroundOnError:
		return st.Color(figure.Surface)
	case theme.ColorNameButton, theme.ColorNameInputBackground, theme.ColorNameHeaderBackground, theme.ColorNameMenuBackground, theme.ColorNameOverlayBackground:
		return st.Color(figure.Band)
	case theme.ColorNameSeparator:
		return st.Color(figure.Grid)
	case theme.ColorNameInputBorder:
		if l.contrast() {
			return st.Color(figure.Ink)
		}
		return alpha(st.Color(figure.Faint), 0x90)
	}
	return theme.DefaultTheme().Color(n, v)
}

func alpha(c color.RGBA, a uint8) color.NRGBA { return color.NRGBA{c.R, c.G, c.B, a} }

// FigureColor returns the colour of a figure's role in the present theme.
func (l *Look) FigureColor(r figure.Role) color.Color {
	return l.style(fyne.CurrentApp().Settings().ThemeVariant()).Color(r)
}
