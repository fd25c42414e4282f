# Pinphase: two commands do everything on a fresh Debian machine that has only
# Go, gcc and make.
#
#     make run     open the window on the demo job
#     make test    run every test
#
# Targets that need packages call scripts/setup, which does nothing when they
# are there. The rest is the go command; nothing here keeps track of files,
# because its cache does that better.

# The window is drawn through OpenGL, on X11 or Wayland, chosen when it starts:
# the headers of all of them are needed. pkg-config is asked for the flags of
# OpenGL. The go command fetches modules over https, hence the certificates.
BUILD_PACKAGES = libgl1-mesa-dev xorg-dev libwayland-dev libxkbcommon-dev pkg-config ca-certificates

# The end-to-end test drives the real window on a virtual display (xvfb), with
# mouse and keys (xdotool), under a window manager (openbox: without one no
# window gets the keyboard or a request to close), and looks at the screen
# (x11-utils, imagemagick).
TEST_PACKAGES = $(BUILD_PACKAGES) xvfb xdotool x11-utils imagemagick openbox

# What packs and checks a release.
RELEASE_PACKAGES = binutils zip unzip desktop-file-utils appstream shared-mime-info lintian rpm

# How long make fuzz gives each target: make fuzz FUZZTIME=5m
FUZZTIME ?= 30s

# On how many new cases make laws tries each law: make laws CHECKS=10000
CHECKS ?= 1000

# -tags ci puts Fyne on its own driver that needs no display and no cgo.
HEADLESS = CGO_ENABLED=0 go test -buildvcs=false -timeout 30m -tags ci

# The tests of the real window, on whatever display there is.
WINDOW = go test -buildvcs=false -count=1 -timeout 30m -tags e2e ./cmd/pinphase/...

# Those of them in which most hangs on the machine.
QUICK = '^(TestCommandLine|TestControlCharactersInNames|TestWithoutDisplay|TestWithoutHome|TestForeignFyneApp|TestEveryPageByMouse)$$'

# What the window is built with. release: the toolkit takes nothing from a FyneApp.toml
# that lies where the program is started. nodynamic: the decoder of phone pictures is
# the one built in, never a library that happens to lie on the machine. no_emoji: the
# toolkit's font of coloured pictures is 4 MB, read once for each style of text, and the
# window uses none.
WINDOW_TAGS = release,nodynamic,no_emoji

# The sizes of window at which make walk goes through every page: make walk SIZES=1280x800
SIZES ?= 1024x640 1280x800 1920x1080 3840x2160

# The window's own widgets. All of app under the race detector takes a quarter of
# an hour: go test -race -timeout 40m -tags ci ./app
RACED = ./widgets/...

.DEFAULT_GOAL := build
MAKEFLAGS += --no-print-directory
.PHONY: build run test quick need-go unit laws race e2e walk check bench benchmarks fuzz picture manual try licences recordings release clean help

# Tests see one language on every machine. Empty is unset here.
test quick unit laws race e2e walk check bench benchmarks fuzz: export LANG := en_US.UTF-8
test quick unit laws race e2e walk check bench benchmarks fuzz: export LC_ALL :=
test quick unit laws race e2e walk check bench benchmarks fuzz: export LC_MESSAGES :=
test quick unit laws race e2e walk check bench benchmarks fuzz: export LANGUAGE :=

# -buildvcs=false, here and wherever go is called: git refuses to speak about a tree that
# belongs to somebody else, such as a mounted one, and go would fail.
build: need-go ## build bin/pincalc and bin/pinphase (the default)
	CGO_ENABLED=0 go build -buildvcs=false -o bin/pincalc ./cmd/pincalc
	CGO_ENABLED=1 go build -buildvcs=false -tags $(WINDOW_TAGS) -o bin/pinphase ./cmd/pinphase

run: need-go ## install what is missing, build, open the window on the demo job
	@scripts/setup $(BUILD_PACKAGES)
	@$(MAKE) build
	@scripts/open-demo

# One after the other also under make -j: the tests of the window want the
# machine to themselves.
test: need-go ## install what is missing, build, run every test
	@scripts/setup $(TEST_PACKAGES)
	@$(MAKE) build
	go vet -buildvcs=false ./...
	@$(MAKE) unit
	@$(MAKE) race
	@$(MAKE) e2e

# For machines on which make test has passed before, or one like them.
quick: need-go ## install what is missing, build, run the tests in which most hangs on the machine
	@scripts/setup $(TEST_PACKAGES)
	@$(MAKE) build
	go vet -buildvcs=false ./...
	scripts/laws others >/dev/null
	$(HEADLESS) . ./cmd/... ./timing/job/...
	$(HEADLESS) -run '^$$' -bench . -benchtime 1x ./cmd/pincalc
	$(HEADLESS) ./app -run '^Test(FullDisk|Folder|Killed|Recovery)'
	scripts/with-xvfb $(WINDOW) -run $(QUICK)

# Before anything is installed.
need-go:
	@scripts/need-go

# Laws are tried on the same engines every time, so that a change is judged by
# what it changed. make laws tries new ones.
unit: need-go ## run the tests that need neither cgo nor a display
	@packages=$$(scripts/laws others) && set -x && $(HEADLESS) $$packages
	@packages=$$(scripts/laws packages) && set -x && $(HEADLESS) $$packages -rapid.seed=1

laws: ## try the laws on CHECKS (1000) new random cases each
	@scripts/laws try $(CHECKS)

# The race detector is C: without cgo there is none.
race: ## run the tests of the packages with goroutines under the race detector
	@if [ "$$(go env CGO_ENABLED)" = 1 ]; then \
		echo go test -buildvcs=false -race -timeout 40m -tags ci $(RACED); \
		go test -buildvcs=false -race -timeout 40m -tags ci $(RACED); \
	else \
		echo "race: cgo is off, not run"; \
	fi

# -count=1: the window is not among the inputs that the test cache knows.
# The virtual display is X11's.
e2e: ## drive the real window on a virtual display
	@case "$$(uname -s)" in \
	Darwin|MINGW*|MSYS*|CYGWIN*) echo "e2e: no X11 here, not run" ;; \
	*) echo '$(WINDOW)'; \
	   scripts/with-xvfb $(WINDOW) ;; \
	esac

# Each size on a screen that is no larger, as the window for a class fills it.
walk: ## go through every page by keyboard and by mouse at four sizes of window
	@for size in $(SIZES); do \
		echo $$size; \
		XVFB_SCREEN=$${size}x24 scripts/with-xvfb go test -buildvcs=false -count=1 -tags e2e -timeout 40m ./cmd/pinphase -run EveryPage -sizes $$size -stall 200ms || exit 1; \
	done

picture: ## paint the picture of the window in the README again
	$(HEADLESS) ./app -count=1 -run TestWindowPicture -picture "$(CURDIR)/assets/window.png"

# Pictures and answers first: the book is made of what lies in assets/manual.
manual: ## draw the manual's pictures and run its commands again; write it into bin/manual
	$(HEADLESS) ./cmd/pincalc -count=1 -run 'TestManual(Commands|Figures)$$' -regen
	$(HEADLESS) ./app -count=1 -run 'TestManualPictures$$' -regen
	CGO_ENABLED=0 go run -buildvcs=false -tags man ./cmd/pincalc manual bin/manual

try: ## draw and simulate the photographs and recordings to try again
	$(HEADLESS) ./timing/part/photo -count=1 -run 'TestTryPhotographs$$' -regen
	$(HEADLESS) ./timing/trace -count=1 -run 'TestTryRecordings$$' -regen

licences: ## gather the licences of what is linked again, and those of the fonts
	$(HEADLESS) ./assets/licences -count=1 -run TestFontLicence -regen
	$(HEADLESS) ./assets/licences -count=1 -run TestFileIsThatOfWhatIsLinked -regen

recordings: ## simulate the recordings in testdata again, and the table of what is read from them
	$(HEADLESS) ./timing/trace -count=1 -run 'TestTableOfCases|TestKept' -regen
	$(HEADLESS) ./timing/trace/ripple -count=1 -timeout 60m -run TestTableOfTrials -regen

# Each set of build tags is a program of its own to the tools.
check: STATICCHECK = GOFLAGS="$$GOFLAGS -buildvcs=false" go tool staticcheck
check: need-go ## gofmt, go vet and staticcheck
	@unformatted=$$(gofmt -l .) && \
	if [ -n "$$unformatted" ]; then echo "not gofmt clean:"; echo "$$unformatted"; exit 1; fi
	go vet -buildvcs=false ./...
	go vet -buildvcs=false -tags ci ./...
	go vet -buildvcs=false -tags e2e ./cmd/pinphase/...
	go vet -buildvcs=false -tags e2e,monkey,heap ./cmd/pinphase/...
	$(STATICCHECK) ./...
	$(STATICCHECK) -tags ci ./...
	$(STATICCHECK) -tags e2e ./cmd/pinphase/...
	$(STATICCHECK) -tags e2e,monkey,heap ./cmd/pinphase/...

bench: need-go ## one table: how fast, each row against another way
	@scripts/setup $(TEST_PACKAGES)
	@scripts/bench

benchmarks: ## run every benchmark there is
	$(HEADLESS) -run '^$$' -bench . -benchmem ./timing/... ./app/... ./widgets/... ./cmd/pincalc

fuzz: ## run each fuzz target for FUZZTIME (30s)
	@scripts/fuzz $(FUZZTIME)

release: need-go ## make the archives and packages that users get, in dist
	@scripts/setup $(BUILD_PACKAGES) $(RELEASE_PACKAGES)
	desktop-file-validate assets/desktop/org.pinphase.desktop.desktop
	appstreamcli validate --no-net assets/desktop/org.pinphase.desktop.metainfo.xml
	scripts/release dist

clean: ## remove what was built and drawn
	rm -rf bin dist demo-cycle.svg demo-wheel.svg

help: ## print this list
	@awk -F ':.*## ' '/^[a-z0-9]+:.*## / { printf "make %-10s %s\n", $$1, $$2 }' $(firstword $(MAKEFILE_LIST))
