// Command write writes the messy files into a folder, to be looked at:
//
//	go run ./dispersion/lesson/internal/messy/write FOLDER
package main

import (
	"fmt"
	"os"
	"path/filepath"

	"github.com/landfall-golf/landfall/dispersion/lesson/internal/messy"
)

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "usage: write FOLDER")
		os.Exit(2)
	}
	for _, f := range messy.Files() {
		if err := os.WriteFile(filepath.Join(os.Args[1], f.Name+".csv"), f.Content, 0o644); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		fmt.Printf("%-22s %s\n", f.Name, f.Fault)
	}
}
