package bot

import (
	"fmt"

	"salthand/grammar"
	"salthand/store"
)

// jarPhoto notes the photo of a jar's label.
func (t *turn) jarPhoto(c grammar.JarPhoto) error {
	l := t.theirs
	jar, known, err := t.tx.Jar(t.kitchen.ID, c.Jar)
	if err != nil {
		return err
	}
	if !known {
		_, _, err := t.jar(c.Jar)
		return t.jarOr(err)
	}
	label := fmt.Sprintf("jar %s label: KIND, PERCENT%% nitrite, lot LOT", jar.Name)
	if len(t.m.Files) == 0 {
		return t.note(l.say("No picture came with that."), l.say("Send the photo of the label in the same message, or type what stands on it:  %s", label))
	}
	words, err := t.photographed(jar)
	if err != nil {
		return err
	}
	lines := words(l)
	card := Card{Kind: NoteCard, Title: lines[0], Lines: lines[1:]}
	if _, kept := t.photo(); kept && unusable(jar.Current()) == jarUnlabelled {
		card.Next = l.say("It is not read: type what stands on it:  %s", label)
	}
	return t.post(card)
}

// photo is the picture that came with the message and was kept; false: none was.
func (t *turn) photo() (string, bool) {
	for _, file := range t.m.Files {
		if file.Photo != "" {
			return file.Photo, true
		}
	}
	return "", false
}

// photographed notes the picture that came with the message as the label's. words say so, and
// of every other file that it was not kept; nothing where none came.
func (t *turn) photographed(jar store.Jar) (words func(l tongue) []string, err error) {
	f := jar.Current()
	name, kept := t.photo()
	if kept && name != f.Photo {
		if err := t.append(0, store.JarPhotographed{Jar: jar.Name, Filling: f.Number, Old: f.Photo, New: name}); err != nil {
			return nil, err
		}
	}
	return func(l tongue) (lines []string) {
		switch {
		case kept && name == f.Photo:
			lines = append(lines, l.say("That photo of jar %s, filling %d, was noted before.", jar.Name, f.Number))
		case kept:
			lines = append(lines, l.say("The label photo of jar %s, filling %d, is kept.", jar.Name, f.Number))
		}
		for _, file := range t.m.Files {
			switch {
			case file.Photo == "":
				lines = append(lines, photoProblemWords(l, file.Problem))
			case file.Photo != name:
				lines = append(lines, l.say("One photo of a label is noted: another came with it, and was not."))
			}
		}
		return lines
	}, nil
}

// photoAgain asks for the photo once more, where what came with it was asked back.
func (t *turn) photoAgain(l tongue, jar string) []string {
	if len(t.m.Files) == 0 {
		return nil
	}
	return []string{l.say("The photo is not noted yet: send it again with  jar %s label .", jar)}
}

// photoProblemWords say why a picture was not kept.
func photoProblemWords(l tongue, p photoProblem) string {
	switch p {
	case photoNotImage:
		return l.say("That file is no picture: it was not kept.")
	case photoEmpty:
		return l.say("That file is empty: it was not kept. Send it again.")
	case photoTooBig:
		return l.say("That picture is larger than 10 MB: it was not kept.")
	case photoNoFolder:
		return l.say("This store keeps no pictures: it was not kept.")
	}
	return l.say("That picture could not be fetched or written: it was not kept. Send it again.")
}

// photoLine says what became of the photo of a filling; "" where there is none. That a file is
// gone or is another is said, and never hidden.
func (t *turn) photoLine(f store.Filling) (string, error) {
	if f.Photo == "" {
		return "", nil
	}
	l := t.theirs
	by, err := t.nameOf(f.PhotoBy)
	if err != nil {
		return "", err
	}
	line := l.say("label photo kept, %s, by %s", moment(l, timeOf(f.PhotoAt), t.zone), by)
	switch photoFault(t.photos, f.Photo) {
	case photoMissing:
		line += ": " + l.say("its file %s is missing from the folder of photos", f.Photo)
	case photoAltered:
		line += ": " + l.say("its file %s is not what it was", f.Photo)
	}
	return line, nil
}
