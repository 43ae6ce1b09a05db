package archive

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
)

// format is the version of the folder and its files.
const format = 1

// markerName is the file that makes a folder an archive.
const markerName = "archive.json"

// asidePrefix starts the names of files that are being written. Readers pass
// over them: nobody was told that they are there.
const asidePrefix = ".aside-"

// An Archive is a folder of sessions.
type Archive struct{ dir string }

type marker struct {
	Format int `json:"format"`
}

// Create returns the archive in a folder, which it makes where there is none. An
// archive that is there already is opened.
//
// Errors: [ErrForeign] for a folder that holds something else; [ErrNoArchive]
// as [Open]; those of the system.
func Create(dir string) (*Archive, error) {
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return nil, fmt.Errorf("archive: %w", err)
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, fmt.Errorf("archive: %w", err)
	}
	for _, e := range entries {
		switch {
		case e.Name() == markerName:
			return Open(dir)
		case !strings.HasPrefix(e.Name(), asidePrefix):
			return nil, fileError(e.Name(), ErrForeign, "make the archive in a folder of its own")
		}
	}
	text, err := json.Marshal(marker{format})
	if err != nil {
		return nil, fmt.Errorf("archive: %w", err)
	}
	if err := writeWhole(dir, markerName, append(text, '\n')); err != nil {
		return nil, fmt.Errorf("archive: %w", err)
	}
	return &Archive{dir}, syncFolder(filepath.Dir(dir))
}

// Open returns the archive in a folder.
//
// Errors: [ErrNoArchive] for a folder that is none, or that a later version of
// this package has made; those of the system.
func Open(dir string) (*Archive, error) {
	text, err := os.ReadFile(filepath.Join(dir, markerName))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("archive: %w: %s has no %s", ErrNoArchive, dir, markerName)
	}
	if err != nil {
		return nil, fmt.Errorf("archive: %w", err)
	}
	var m marker
	if err := json.Unmarshal(text, &m); err != nil || m.Format != format {
		return nil, fmt.Errorf("archive: %w: %s is not of format %d, the one read here", ErrNoArchive, filepath.Join(dir, markerName), format)
	}
	return &Archive{dir}, nil
}

// pupilFolder returns the folder of a pupil's sessions. A name can hold
// anything, .. and / included, so the folder has a hash of it, which also parts
// the pupils evenly.
func pupilFolder(pupil string) string {
	sum := sha256.Sum256([]byte(pupil))
	return "p-" + hex.EncodeToString(sum[:8])
}

// writeWhole writes a file so that its name stands for all of its bytes or does
// not exist, whatever stops the program or the machine: aside, to the disk,
// under its name, and the folder to the disk.
func writeWhole(dir, name string, data []byte) error {
	f, err := os.CreateTemp(dir, asidePrefix+"*")
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if err == nil {
		err = f.Chmod(0o644)
	}
	if err == nil {
		err = f.Sync()
	}
	if e := f.Close(); err == nil {
		err = e
	}
	if err == nil {
		err = os.Rename(f.Name(), filepath.Join(dir, name))
	}
	if err != nil {
		return errors.Join(err, os.Remove(f.Name()))
	}
	return syncFolder(dir)
}

// syncFolder makes the names in a folder last. Windows has no such call, and
// orders them itself.
func syncFolder(dir string) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	return errors.Join(d.Sync(), d.Close())
}
