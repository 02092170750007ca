package fakechat

import (
	"bytes"
	"mime/multipart"
	"net/http"
	"testing"
)

// The three steps of an upload. Source: docs.slack.dev/messaging/working-with-files.
func TestSlackUpload(t *testing.T) {
	a := newApp(t, SlackSettings{})
	root := a.s.Say(a.ana, a.cure, "", "record 42")
	got := a.must("files.getUploadURLExternal", "filename", "batch 42.csv", "length", "7")
	id := got.text("file_id")
	a.refused("file_not_found", "files.completeUploadExternal", "files", `[{"id":"`+id+`"}]`, "channel_id", a.cure)
	if up := a.send(http.MethodPost, got.text("upload_url"), "text/csv", "", "a,b"); up.status != http.StatusBadRequest {
		t.Errorf("3 of 7 bytes are taken: %d %s", up.status, up.body)
	}
	if up := a.send(http.MethodPost, got.text("upload_url"), "text/csv", "", "g,8.0\n\n"); up.status != http.StatusOK || up.body != "OK - 7" {
		t.Errorf("%d %s", up.status, up.body)
	}
	done := a.must("files.completeUploadExternal", "files", `[{"id":"`+id+`","title":"Batch 42"}]`, "channel_id", a.cure, "thread_ts", root, "initial_comment", "here")
	if _, told := done.json["ts"]; told {
		t.Errorf("the answer tells the message: %s", done.body)
	}
	up := a.s.Uploads()
	if len(up) != 1 || up[0].Title != "Batch 42" || string(up[0].Bytes) != "g,8.0\n\n" || up[0].Thread != root || up[0].Mime != "text/csv; charset=utf-8" {
		t.Errorf("uploads %+v", up)
	}
	if p, _ := a.s.Post(a.cure, up[0].TS); p.Text != "here" || p.Subtype != "file_share" || p.Files[0].ID != id {
		t.Errorf("the message is %+v", p)
	}
	a.refused("invalid_arguments", "files.getUploadURLExternal", "filename", "empty.csv", "length", "0")
}

func TestSlackUploadAsForm(t *testing.T) {
	a := newApp(t, SlackSettings{})
	got := a.must("files.getUploadURLExternal", "filename", "a.png", "length", "4")
	var body bytes.Buffer
	w := multipart.NewWriter(&body)
	part, err := w.CreateFormFile("file", "a.png")
	if err != nil {
		t.Fatal(err)
	}
	_, _ = part.Write([]byte("\x89PNG"))
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	if up := a.send(http.MethodPost, got.text("upload_url"), w.FormDataContentType(), "", body.String()); up.body != "OK - 4" {
		t.Errorf("%d %s", up.status, up.body)
	}
	a.s.Leave(SlackBot, a.cure)
	a.refused("not_in_channel", "files.completeUploadExternal", "files", `[{"id":"`+got.text("file_id")+`"}]`, "channel_id", a.cure)
}

// A file needs the token; without it there is a sign-in page with status 200.
func TestSlackDownload(t *testing.T) {
	a := newApp(t, SlackSettings{})
	l := a.dial()
	a.s.Share(a.ana, a.cure, "", "the label", SlackFile{Name: "label.jpg", Bytes: []byte("\xff\xd8\xff")})
	l.take() // file_shared
	e := l.take()
	address := e.Payload.Event["files"].([]any)[0].(map[string]any)["url_private"].(string)
	if got := a.send(http.MethodGet, address, "", a.s.BotToken(), ""); got.body != "\xff\xd8\xff" || got.header.Get("Content-Type") != "image/jpeg" {
		t.Errorf("%q %v", got.body, got.header)
	}
	got := a.send(http.MethodGet, address, "", "", "")
	if got.status != http.StatusOK || got.header.Get("Content-Type") != "text/html; charset=utf-8" {
		t.Errorf("without the token: %d %v", got.status, got.header)
	}
	if codes := a.problems(); len(codes) != 1 || codes[0] != "not_authed" {
		t.Errorf("problems %v", codes)
	}
	a.s.Break("download", 1, SlackFault{Status: 503})
	if got := a.send(http.MethodGet, address, "", a.s.BotToken(), ""); got.status != 503 {
		t.Errorf("a broken download: %d", got.status)
	}
	a.refused("file_not_found", "files.info", "file", "F404")
}
