package api

import (
	"bytes"
	"encoding/json"
	"net/http"
	"sync"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/yaml"
	"github.com/gin-gonic/gin"

	"wayhouse/api/phrase"
	"wayhouse/api/wire"
)

// describe serves the description of the service in OpenAPI 3.1 and 3.0, as JSON and as
// YAML, each in every language.
func describe(router *gin.Engine, doc *huma.OpenAPI) {
	for path, written := range map[string]func() ([]byte, error){
		"/openapi": func() ([]byte, error) { return json.Marshal(doc) }, "/openapi-3.0": doc.Downgrade,
	} {
		for _, form := range []string{"json", "yaml"} {
			made := map[string]func() ([]byte, error){}
			for _, tag := range phrase.Words() {
				made[tag] = sync.OnceValues(func() ([]byte, error) { return described(written, form, tag) })
			}
			router.GET(path+"."+form, descriptions(form, made))
		}
	}
}

// described is a description in a form and in a language.
func described(written func() ([]byte, error), form, tag string) ([]byte, error) {
	in, err := phrase.Choose(tag, "", "")
	if err != nil {
		return nil, err
	}
	raw, err := written()
	if err == nil {
		raw, err = wire.Translated(raw, in)
	}
	if err != nil || form == "json" {
		return raw, err
	}
	var out bytes.Buffer
	err = yaml.Convert(&out, bytes.NewReader(raw))
	return out.Bytes(), err
}

// descriptions answers in the language that is asked for.
func descriptions(form string, made map[string]func() ([]byte, error)) gin.HandlerFunc {
	return func(c *gin.Context) {
		in, err := phrase.Choose(c.Query("lang"), c.GetHeader("Accept-Language"), "")
		if err != nil {
			writeProblem(c, wrongParameter(err))
			return
		}
		tag := in.Tag().String()
		raw, err := made[tag]()
		if err != nil {
			panic(err) // what the program says of itself, as every test asks for it
		}
		c.Header("Vary", "Accept-Language")
		c.Header("Content-Language", tag)
		c.Data(http.StatusOK, "application/openapi+"+form, raw)
	}
}
