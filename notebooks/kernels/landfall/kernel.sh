#!/bin/sh
# Starts the Go kernel for the connection file $1, for cells that see this
# module's packages. Jupyter calls it through kernel.json, and so does
# "go run ./notebooks".
#
# The kernel and goimports are built from the tool lines of the module's go.mod,
# once, into the user's cache directory. Only Go is needed, no C compiler.
#
# LANDFALL_IMPORTS, if set, names packages to compile before the kernel first
# starts, so that no cell has to wait long for them.
#
# Lines on stderr that start with "landfall: " tell what takes long, and why it
# failed.
set -eu

say() { echo "landfall: $*" >&2; }

here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../../.." && pwd)

# Only these settings are known to work with the workspace that the kernel
# makes for its cells.
export GOFLAGS="-buildvcs=false -ldflags=-s"
unset GOWORK GOTMPDIR
# No cell needs C, and looking for a C compiler costs each of them time.
export CGO_ENABLED=0

command -v go >/dev/null || { say "there is no go command on the PATH"; exit 1; }
# Of a kernel started by a cell of another one, PATH finds the go in bin. Ask
# Go where it is, and the answer is the real one.
GOROOT=$(cd "$root" && go env GOROOT)
export GOROOT
export LANDFALL_GO="$GOROOT/bin/go"

case $(uname) in
Darwin) cache=${HOME:?}/Library/Caches ;;
*) cache=${XDG_CACHE_HOME:-${HOME:?}/.cache} ;;
esac
# Another version of the kernel changes go.mod or go.sum: build it anew, and
# leave the old one to whoever still runs it.
versions=$(cd "$root" && "$LANDFALL_GO" env GOVERSION GOOS GOARCH | tr '\n' '-')$(cat "$root/go.mod" "$root/go.sum" | cksum | tr ' ' '-')
kernels=$cache/landfall/kernels
built=$kernels/$versions

if ! [ -x "$built/gonb" ]; then
	say "building the Go kernel, which takes a minute, once"
	mkdir -p "$built"
	aside=$(mktemp -d "$kernels/build.XXXXXX")
	trap 'rm -rf "$aside"' EXIT
	(cd "$root" && GOWORK=off CGO_ENABLED=0 "$LANDFALL_GO" build -o "$aside" \
		github.com/janpfeifer/gonb golang.org/x/tools/cmd/goimports) ||
		{ say "the Go kernel can't be built"; exit 1; }
	# Renaming is atomic, and whoever builds at the same time renames the same
	# files. gonb comes last, since it is what others look for.
	mv -f "$aside/goimports" "$built/goimports"
	mv -f "$aside/gonb" "$built/gonb"
	rm -rf "$aside"
	trap - EXIT
	# What nobody has started for a month, and builds that were killed.
	find "$kernels" -mindepth 1 -maxdepth 1 -mtime +30 -exec rm -rf {} + || :
fi
touch "$built" || :

# Once for a kernel and its imports: later changes to a package are compiled by
# the first cell that needs it, and asking Go each time costs a second.
compiled=$built/compiled-$(printf %s "$root ${LANDFALL_IMPORTS-}" | cksum | tr ' ' '-')
if [ -n "${LANDFALL_IMPORTS-}" ] && ! [ -e "$compiled" ]; then
	say "compiling the packages that the notebook imports"
	# A package that does not compile is reported by the cell that imports it.
	(cd "$root" && "$LANDFALL_GO" build $LANDFALL_IMPORTS) >/dev/null 2>&1 && touch "$compiled" || :
fi

# A notebook server keeps a file named for its process beside those of its kernels,
# and has browsers that can move a slider. Whoever else runs a notebook has none.
unset LANDFALL_LIVE
for server in nbserver jpserver; do
	if [ -e "$(dirname "$1")/$server-$PPID.json" ]; then export LANDFALL_LIVE=1; fi
done

export PATH="$here/bin:$built:$PATH"
exec "$built/gonb" -kernel "$1" -raw_error -go_work="$root"
