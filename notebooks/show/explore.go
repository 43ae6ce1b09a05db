package show

import (
	"errors"
	"fmt"
	"html"
	"os"
	"os/signal"
	"strings"
	"time"

	"github.com/janpfeifer/gonb/gonbui/protocol"
)

// A Slider is a whole number that a reader moves, between From and To.
type Slider struct {
	Label           string // what is moved, before the slider
	From, To, Start int    // where it ends and where it stands at first
}

// A Choice is one of several names; the first is chosen at the start.
type Choice struct {
	Label string   // what is chosen, before the names
	Names []string // in the order shown
}

const (
	// liveVariable is set by the kernel's script where a notebook server with a
	// browser has started it.
	liveVariable = "LANDFALL_LIVE"

	// firstAnswer is how long a browser has to say that it is there.
	firstAnswer = 5 * time.Second

	// rest is how long nobody may touch a control until the cell ends: while it
	// runs, no other cell can.
	rest = 10 * time.Minute
)

// Explore shows a picture and what is to be said of it, with a slider and a choice
// above. While the cell runs, draw is called anew for what a reader chooses, and
// what it returns takes the place of what was there. Each call gets a number of the
// slider and a name of the choice.
//
// The cell ends when it is interrupted, or when nobody has touched a control for ten
// minutes. Where nobody can, since no browser is there, it shows the first state and
// ends at once. A slider or choice that leaves nothing to choose, and an error of
// draw in the first state, end the cell with a message; a later one is shown in the
// picture's place.
func Explore(s Slider, c Choice, draw func(number int, name string) (Picture, string, error)) {
	if s.From >= s.To || s.Start < s.From || s.Start > s.To || len(c.Names) == 0 {
		stop(fmt.Errorf("show.Explore: %q runs from %d to %d and starts at %d, %q has %d names: there is nothing to choose", s.Label, s.From, s.To, s.Start, c.Label, len(c.Names)))
	}
	first, err := state(draw, s.Start, c.Names[0])
	if err != nil {
		stop(fmt.Errorf("show.Explore: %w", err))
	}
	kernel, err := kernelPipe()
	if err != nil {
		stop(fmt.Errorf("the kernel can't be reached: %w", err))
	}
	if kernel == nil || os.Getenv(liveVariable) == "" {
		send(first)
		return
	}
	interrupted := make(chan os.Signal, 1)
	signal.Notify(interrupted, os.Interrupt)
	if err := explore(kernel, s, c, draw, first, interrupted); err != nil {
		stop(fmt.Errorf("show.Explore: %w", err))
	}
}

// explore is Explore where a browser may be.
func explore(kernel *pipe, s Slider, c Choice, draw func(int, string) (Picture, string, error), first bundle, interrupted <-chan os.Signal) error {
	// Of this run: a notebook keeps what earlier runs have shown.
	id := fmt.Sprintf("landfall-explore-%d", time.Now().UnixNano())
	subscribe := func(end bool) error {
		return kernel.message(protocol.MIMECommSubscribe, protocol.CommSubscription{Address: id, Unsubscribe: end})
	}
	if err := subscribe(false); err != nil {
		return err
	}
	controls := controls(id, s, c)
	controls.id = id + "-controls"
	first.id = id + "-picture"
	for _, b := range []bundle{controls, first} {
		send(b)
	}
	wait, why := firstAnswer, "No browser answered: in Jupyter, run this cell to move the slider."
	var now chosen
	for {
		select {
		case text := <-kernel.chosen:
			wait, why = rest, "Nobody has moved the slider for a while: run this cell to move it again."
			before := now.move
			for now.take(text, s, c); len(kernel.chosen) > 0; now.take(<-kernel.chosen, s, c) {
			}
			if now.move == before {
				continue
			}
			b, err := state(draw, now.number, now.name)
			if err != nil {
				message := clean(err.Error(), longest)
				b = bundle{html: "<p>" + html.EscapeString(message) + "</p>", text: message}
			}
			b.id = first.id
			send(b)
			continue
		case <-interrupted:
			why = "Stopped: run this cell to move the slider again."
		case <-time.After(wait):
		case <-kernel.closed:
			return errors.Join(errors.New("the kernel closed the pipe"), kernel.err)
		}
		break
	}
	// First let go, then end: the kernel may not write to a program that is gone.
	if err := errors.Join(subscribe(true), kernel.settle()); err != nil {
		return err
	}
	send(bundle{html: "<p>" + why + "</p>", text: why, id: controls.id})
	return nil
}

// state draws one state.
func state(draw func(int, string) (Picture, string, error), number int, name string) (bundle, error) {
	p, says, err := draw(number, name)
	if err != nil {
		return bundle{}, err
	}
	b, err := picture(p)
	if err != nil {
		return bundle{}, err
	}
	says = clean(says, longest)
	b.html += "\n<p>" + html.EscapeString(says) + "</p>"
	b.text += "\n\n" + says
	return b, nil
}

// chosen is where the controls stand.
type chosen struct {
	move   int // the moves are counted, since they need not arrive in order
	number int
	name   string
}

// take reads what the browser sends: the count of moves, the slider's number and
// the place of the choice's name. What is older than the last, or makes no sense,
// changes nothing.
func (now *chosen) take(text string, s Slider, c Choice) {
	var move, number, place int
	if _, err := fmt.Sscanf(text, "%d %d %d", &move, &number, &place); err != nil || move <= now.move ||
		number < s.From || number > s.To || place < 0 || place >= len(c.Names) {
		return
	}
	*now = chosen{move, number, c.Names[place]}
}

// controls is the slider and the choice, which send what they stand at to the
// address: once when they appear, so that the program knows that they are there.
func controls(address string, s Slider, c Choice) bundle {
	var b strings.Builder
	fmt.Fprintf(&b, `<div id="%s"><p><label>%s <input type="range" min="%d" max="%d" value="%d"></label> <output>%[5]d</output></p>`+"\n",
		address, html.EscapeString(clean(s.Label, longestCell)), s.From, s.To, s.Start)
	fmt.Fprintf(&b, "<p><label>%s <select>", html.EscapeString(clean(c.Label, longestCell)))
	for _, name := range c.Names {
		fmt.Fprintf(&b, "<option>%s</option>", html.EscapeString(clean(name, longestCell)))
	}
	fmt.Fprintf(&b, `</select></label></p></div>
<script>(() => {
  const box = document.getElementById('%s');
  const slider = box.querySelector('input'), choice = box.querySelector('select'), number = box.querySelector('output');
  let moves = 0;
  const tell = () => {
    number.textContent = slider.value;
    globalThis.gonb_comm?.send('%[1]s', [++moves, slider.value, choice.selectedIndex].join(' '));
  };
  slider.addEventListener('input', tell);
  choice.addEventListener('change', tell);
  tell();
})();</script>`, address)
	return bundle{html: b.String(), text: fmt.Sprintf("%s: %d to %d. %s: %s.", s.Label, s.From, s.To, c.Label, strings.Join(c.Names, ", "))}
}
