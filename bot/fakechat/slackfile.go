package fakechat

import (
	"encoding/json"
	"fmt"
	"io"
	"mime"
	"net/http"
	"path"
	"strconv"
	"strings"
)

// SlackFile is one file, sent by a person or uploaded by the app.
type SlackFile struct {
	ID      string
	Name    string
	Title   string
	Mime    string
	Bytes   []byte
	User    string
	Channel string // where it was shared, "" before it is
	Thread  string
	TS      string // of the message that carries it
	Stub    bool   // from another team: events tell only its id, the rest is asked with files.info
	size    int    // as it was announced
	arrived bool
}

// fileJSON is a file as messages and files.info show it.
func (s *Slack) fileJSON(f *SlackFile, whole bool) map[string]any {
	if f.Stub && !whole {
		return map[string]any{"id": f.ID, "mode": "file_access", "file_access": "check_file_info", "created": 0, "timestamp": 0, "user": ""}
	}
	ext := strings.TrimPrefix(path.Ext(f.Name), ".")
	address := s.base + "/files-pri/" + SlackTeam + "-" + f.ID + "/" + f.Name
	v := map[string]any{
		"id": f.ID, "name": f.Name, "title": f.Title, "mimetype": f.Mime, "filetype": ext, "pretty_type": strings.ToUpper(ext),
		"user": f.User, "user_team": SlackTeam, "size": len(f.Bytes), "mode": "hosted", "is_external": false, "editable": false,
		"url_private": address, "url_private_download": address + "?download=1", "file_access": "visible",
		"created": s.set.Now().Unix(), "timestamp": s.set.Now().Unix(),
	}
	if f.Channel != "" {
		v["channels"] = []string{f.Channel}
		share := map[string]any{f.Channel: []any{map[string]any{"ts": f.TS, "thread_ts": f.Thread}}}
		v["shares"] = map[string]any{"public": share}
	}
	return v
}

func (s *Slack) uploadURL(a args) (reply, *refusal) {
	size, err := strconv.Atoi(a["length"])
	if err != nil || size <= 0 || a["filename"] == "" {
		return nil, &refusal{code: "invalid_arguments", messages: []string{"filename and a length above 0 are required"}}
	}
	kind := mime.TypeByExtension(path.Ext(a["filename"]))
	if kind == "" {
		kind = "application/octet-stream"
	}
	f := &SlackFile{ID: s.number("F"), Name: a["filename"], Title: a["filename"], Mime: kind, User: SlackBot, size: size}
	s.files[f.ID] = f
	return reply{"upload_url": s.base + "/upload/v1/" + f.ID, "file_id": f.ID}, nil
}

// serveUpload takes the bytes, raw or as the one part of a form.
func (s *Slack) serveUpload(w http.ResponseWriter, r *http.Request) {
	id := strings.TrimPrefix(r.URL.Path, "/upload/v1/")
	body, err := uploadedBytes(r)
	s.mu.Lock()
	call := SlackCall{Method: "upload", At: s.set.Now(), Args: args{"file": id, "size": strconv.Itoa(len(body))}, Status: http.StatusOK}
	fault := s.faultFor("upload")
	f := s.files[id]
	switch {
	case s.outage:
		s.mu.Unlock()
		hangUp(w)
		return
	case fault.before():
		call.Status = fault.Status
	case err != nil || f == nil || f.arrived:
		call.Status = http.StatusNotFound
	case len(body) != f.size:
		call.Status = http.StatusBadRequest
		s.problem("upload", "length", fmt.Sprintf("%s: announced %d bytes, sent %d", f.Name, f.size, len(body)))
	default:
		f.Bytes, f.arrived = body, true
	}
	s.calls = append(s.calls, call)
	s.touch()
	s.mu.Unlock()
	if call.Status != http.StatusOK && !fault.before() {
		w.WriteHeader(call.Status)
		return
	}
	s.answer(w, r, fault, []byte(fmt.Sprintf("OK - %d", len(body))))
}

func uploadedBytes(r *http.Request) ([]byte, error) {
	parts, err := r.MultipartReader()
	if err != nil {
		return io.ReadAll(r.Body)
	}
	for {
		part, err := parts.NextPart()
		if err != nil {
			return nil, err
		}
		if part.FileName() != "" {
			return io.ReadAll(part)
		}
	}
}

func (s *Slack) completeUpload(a args) (reply, *refusal) {
	var list []struct{ ID, Title string }
	if json.Unmarshal([]byte(a["files"]), &list) != nil || len(list) == 0 {
		return refuse("invalid_arguments")
	}
	var files []*SlackFile
	summary := []any{}
	for _, l := range list {
		f := s.files[l.ID]
		if f == nil || !f.arrived || f.Channel != "" {
			return refuse("file_not_found")
		}
		if l.Title != "" {
			f.Title = l.Title
		}
		files = append(files, f)
		summary = append(summary, map[string]any{"id": f.ID, "title": f.Title})
	}
	channel := a["channel_id"]
	if channel == "" {
		channel, _, _ = strings.Cut(a["channels"], ",")
	}
	if channel == "" {
		return reply{"files": summary}, nil // kept, shared nowhere
	}
	c, no := s.place(channel)
	if no != nil {
		return nil, no
	}
	root, no := s.thread("files.completeUploadExternal", c, a["thread_ts"])
	if no != nil {
		return nil, no
	}
	p := &SlackPost{Channel: c.ID, Thread: root, User: SlackBot, BotID: SlackBotID, Team: SlackTeam, Subtype: "file_share", Text: a["initial_comment"], Files: files}
	if raw := a["blocks"]; raw != "" {
		if p.Blocks, no = s.checkMessageBlocks(raw); no != nil {
			return nil, no
		}
	}
	s.share(p)
	return reply{"files": summary}, nil
}

// share posts a message that carries files. Its ts is not in the answer to the upload.
func (s *Slack) share(p *SlackPost) {
	s.keep(p)
	for _, f := range p.Files {
		f.Channel, f.Thread, f.TS = p.Channel, p.Thread, p.TS
		s.uploads = append(s.uploads, f)
		s.event(p.Channel, map[string]any{
			"type": "file_shared", "file_id": f.ID, "user_id": f.User, "channel_id": p.Channel, "file": map[string]any{"id": f.ID}, "event_ts": s.stamp(),
		})
	}
	s.said(p)
}

func (s *Slack) fileInfo(a args) (reply, *refusal) {
	f := s.files[a["file"]]
	if f == nil || !f.arrived || f.Channel != "" && !s.channels[f.Channel].has(SlackBot) {
		return refuse("file_not_found")
	}
	return reply{"file": s.fileJSON(f, true), "comments": []any{}, "response_metadata": map[string]any{"next_cursor": ""}}, nil
}

// serveDownload hands a file out. Without the token the platform answers with its sign-in
// page and status 200, which a careless client keeps as the file.
func (s *Slack) serveDownload(w http.ResponseWriter, r *http.Request) {
	id, _, _ := strings.Cut(strings.TrimPrefix(r.URL.Path, "/files-pri/"+SlackTeam+"-"), "/")
	token, _ := strings.CutPrefix(r.Header.Get("Authorization"), "Bearer ")
	s.mu.Lock()
	if s.outage {
		s.mu.Unlock()
		hangUp(w)
		return
	}
	f := s.files[id]
	fault := s.faultFor("download")
	s.calls = append(s.calls, SlackCall{Method: "download", At: s.set.Now(), Args: args{"file": id}, Status: http.StatusOK})
	signedIn := token == s.set.BotToken && s.revoked == "" && s.need("files:read") == nil
	if !signedIn {
		s.problem("download", "not_authed", "a file was asked for without the right to read it")
	}
	s.touch()
	s.mu.Unlock()
	switch {
	case !signedIn:
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		s.answer(w, r, fault, []byte("<!DOCTYPE html><html><title>Sign in</title></html>"))
	case f == nil || !f.arrived:
		http.NotFound(w, r)
	default:
		w.Header().Set("Content-Type", f.Mime)
		s.answer(w, r, fault, f.Bytes)
	}
}
