// Gallery draws one figure of each kind that package chart makes, from the demo
// data, and writes them with the code of each:
//
//	go run ./dispersion/internal/gallery              docs/gallery, page and pictures
//	go run ./dispersion/internal/gallery -look DIR    PNG of each as seen by different eyes, into DIR
//
// Run it from the top of the repository. Everything in it is invented.
package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
)

func main() {
	out := flag.String("out", "docs/gallery", "folder for the page and its pictures")
	look := flag.String("look", "", "folder for pictures in colour, in grey and with two simulated colour-blind eyes, in place of the page")
	flag.Parse()
	if err := run(*out, *look); err != nil {
		fmt.Fprintln(os.Stderr, "gallery:", err)
		os.Exit(1)
	}
}

func run(out, look string) error {
	d, err := newDemo()
	if err != nil {
		return err
	}
	content, where := page, out
	if look != "" {
		content, where = views, look
	}
	files, err := content(d, entries)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(where, 0o755); err != nil {
		return err
	}
	for name, bytes := range files {
		if err := os.WriteFile(filepath.Join(where, name), bytes, 0o644); err != nil {
			return err
		}
	}
	return nil
}

// views returns each of the figures as a PNG for each kind of eye.
func views(d *demo, entries []entry) (map[string][]byte, error) {
	files := map[string][]byte{}
	for _, e := range entries {
		f, err := e.draw(d)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", e.name, err)
		}
		picture, err := f.PNG()
		if err != nil {
			return nil, fmt.Errorf("%s: %w", e.name, err)
		}
		for _, eye := range eyes {
			seen, err := eye.see(picture)
			if err != nil {
				return nil, fmt.Errorf("%s: %w", e.name, err)
			}
			files[e.name+"-"+eye.name+".png"] = seen
		}
	}
	return files, nil
}
