//! The description of the interface, in the form of OpenAPI 3.1.

use std::sync::LazyLock;

use axum::routing::get;
use axum::{Json, Router};
use linkwright_answers::batch::{input_schema, questions};
use linkwright_store::record_tables;
use serde_json::{Map, Value, json};

use super::asks::examples;
use super::records::ROWS_MAX;
use crate::state::App;

pub(crate) fn routes() -> Router<App> {
    Router::new().route("/api/openapi.json", get(|| async { Json(&*DESCRIPTION) }))
}

/// The same for as long as the program runs.
static DESCRIPTION: LazyLock<Value> = LazyLock::new(description);

/// The whole description, made from the questions and kinds of record there are.
fn description() -> Value {
    let mut paths = Map::new();
    let examples = examples();
    for (question, inputs) in questions() {
        paths.insert(format!("/api/ask/{question}"), ask(question, inputs, examples.get(question)));
    }
    paths.insert("/api/batch".to_owned(), batch());
    paths.insert("/api/records".to_owned(), kinds());
    paths.insert("/api/records/{kind}".to_owned(), records());
    paths.insert("/api/openapi.json".to_owned(), itself());
    json!({
        "openapi": "3.1.0",
        "info": {
            "title": "Linkwright",
            "version": env!("CARGO_PKG_VERSION"),
            "description": "Questions about jump rings, and a workshop's records, read only. \
                            Reached from this computer only.",
            "license": { "name": "MIT OR Apache-2.0", "identifier": "MIT OR Apache-2.0" },
        },
        "paths": paths,
        "components": { "schemas": { "Refusal": refusal() } },
    })
}

fn ask(question: &str, inputs: &[&str], example: Option<&Value>) -> Value {
    let properties: Map<String, Value> =
        inputs.iter().map(|key| ((*key).to_owned(), input_schema(key))).collect();
    let mut body = json!({
        "schema": { "type": "object", "properties": properties, "additionalProperties": false }
    });
    if let Some(example) = example {
        body["example"] = example.clone();
    }
    json!({ "post": {
        "operationId": format!("ask_{question}"),
        "summary": format!("The batch question {question}"),
        "requestBody": { "required": true, "content": { "application/json": body } },
        "responses": {
            "200": said("an answer with its basis, source and cautions", json!({
                "type": "object",
                "required": ["ask", "answer", "cautions"],
                "properties": {
                    "ask": { "const": question },
                    "answer": { "type": "object" },
                    "cautions": { "type": "array", "items": { "type": "string" } },
                },
            })),
            "400": said("the body is no JSON object", refused()),
            "413": page("the body is too large"),
            "422": said("an input is missing, unknown or outside its limits", refused()),
        },
    }})
}

fn batch() -> Value {
    json!({ "post": {
        "operationId": "batch",
        "summary": "Many questions as JSON lines, answered line by line",
        "requestBody": { "required": true, "content": { "text/plain": { "schema": { "type": "string" } } } },
        "responses": {
            "200": { "description": "one line for each line", "content": { "application/x-ndjson": { "schema": { "type": "string" } } } },
            "413": page("the body is too large"),
        },
    }})
}

fn kinds() -> Value {
    json!({ "get": {
        "operationId": "kinds",
        "summary": "The kinds of record there are",
        "responses": { "200": said("their names", json!({
            "type": "object",
            "required": ["kinds"],
            "properties": { "kinds": { "type": "array", "items": { "type": "string" } } },
        })) },
    }})
}

fn records() -> Value {
    json!({ "get": {
        "operationId": "records",
        "summary": "Records of one kind in the order of their numbers",
        "parameters": [
            { "name": "kind", "in": "path", "required": true,
              "schema": { "type": "string", "enum": record_tables() } },
            { "name": "after", "in": "query", "schema": { "type": "integer", "format": "int64" } },
            { "name": "count", "in": "query",
              "schema": { "type": "integer", "minimum": 1, "maximum": ROWS_MAX } },
        ],
        "responses": {
            "200": said("records, and what to ask after next", json!({
                "type": "object",
                "required": ["kind", "records", "next"],
                "properties": {
                    "kind": { "type": "string" },
                    "records": { "type": "array", "items": { "type": "object" } },
                    "next": { "type": ["integer", "null"] },
                },
            })),
            "400": said("after or count cannot be read", refused()),
            "404": said("there is no such kind", refused()),
        },
    }})
}

fn itself() -> Value {
    json!({ "get": {
        "operationId": "description",
        "summary": "This description",
        "responses": { "200": said("OpenAPI 3.1", json!({ "type": "object" })) },
    }})
}

fn said(description: &str, schema: Value) -> Value {
    json!({ "description": description, "content": { "application/json": { "schema": schema } } })
}

fn page(description: &str) -> Value {
    json!({ "description": description, "content": { "text/html": {} } })
}

fn refused() -> Value {
    json!({ "$ref": "#/components/schemas/Refusal" })
}

fn refusal() -> Value {
    json!({
        "type": "object",
        "required": ["error"],
        "properties": { "error": {
            "type": "object",
            "required": ["field", "given", "message"],
            "properties": {
                "field": { "type": "string" },
                "given": {},
                "message": { "type": "string" },
            },
        }},
    })
}
