package main

import (
	"io"
	"os"
	"strings"
	"syscall"
	"unsafe"

	"pinphase.org/pinphase"
)

var (
	attachConsole = syscall.NewLazyDLL("kernel32.dll").NewProc("AttachConsole")
	messageBox    = syscall.NewLazyDLL("user32.dll").NewProc("MessageBoxW")
)

// outputs are where the program says something. A program of the desktop has no console of
// its own on Windows: what it says goes where the caller wants it, else to the console it
// was called from, else, once it ends, into a box.
func outputs() (out, errOut io.Writer, end func(code int)) {
	quiet := func(int) {}
	if leads(os.Stdout) || leads(os.Stderr) {
		return os.Stdout, os.Stderr, quiet
	}
	const callers = ^uintptr(0) // the console of the process that called this one
	if ok, _, _ := attachConsole.Call(callers); ok != 0 {
		if console, err := os.OpenFile("CONOUT$", os.O_RDWR, 0); err == nil {
			os.Stdout, os.Stderr = console, console
			return console, console, quiet
		}
	}
	var said strings.Builder
	return &said, &said, func(code int) {
		if said.Len() > 0 {
			showBox(said.String(), code == exitDone)
		}
	}
}

// leads says whether what is written to a file arrives somewhere.
func leads(f *os.File) bool {
	if f == nil {
		return false
	}
	kind, err := syscall.GetFileType(syscall.Handle(f.Fd()))
	return err == nil && kind != syscall.FILE_TYPE_UNKNOWN
}

func showBox(text string, asked bool) {
	const iconError, iconInformation = 0x10, 0x40
	icon := uintptr(iconError)
	if asked {
		icon = iconInformation
	}
	words, err := syscall.UTF16PtrFromString(text)
	if err != nil {
		return // a zero in it, which the writer before has taken out
	}
	title, _ := syscall.UTF16PtrFromString(pinphase.About().Name)
	messageBox.Call(0, uintptr(unsafe.Pointer(words)), uintptr(unsafe.Pointer(title)), icon)
}
