#!/bin/sh
# A shop's other program, with nothing but curl: an instrument from its first answers to its paper and an offered quote.
#   program.sh ADDRESS TOKEN FOLDER
# It prints what it found, a line each, and leaves paper.pdf and quote.pdf in the folder.
set -eu
at=$1/api/1 token=$2 out=$3

send() { # METHOD PATH [more of curl's options]
  method=$1 path=$2
  shift 2
  body=$(curl -sS --fail-with-body -X "$method" -H "Authorization: Bearer $token" \
    -H "Content-Type: application/json" "$@" "$at$path") || { # the problem in words, as RFC 9457 has it
    printf '%s\n' "$body" >&2
    return 1
  }
  printf '%s' "$body"
}
text() { grep -o "\"$1\": *\"[^\"]*\"" | head -n 1 | cut -d '"' -f 4; }
number() { grep -o "\"$1\": *[0-9]*" | head -n 1 | grep -o '[0-9]*$'; }

# Sent twice under one key it is made once.
made=$(send POST /evaluations -H "Idempotency-Key: rack-17" \
  -d '{"rubric": "violin", "title": "Rack 17", "asking": {"amount": "780.00", "currency": "USD"}}')
id=$(printf '%s' "$made" | text id)
version=$(printf '%s' "$made" | number version)

answered=$(send PUT "/evaluations/$id/answers" -d "{\"version\": $version, \"answers\": {
  \"purfling\": \"inlaid_fibre\", \"fingerboard_end\": \"blunt\", \"bridge_fitted_feet\": \"gaps\",
  \"string_age\": \"dull\", \"body_length\": {\"reading\": \"355 mm\"}}}")
version=$(printf '%s' "$answered" | number version)

result=$(send GET "/evaluations/$id/result")
printf 'advice: %s\n' "$(printf '%s' "$result" | text sentence)"
send GET "/evaluations/$id/report.pdf?for=shop" -o "$out/paper.pdf"

send POST "/evaluations/$id/finish" -d "{\"version\": $version}" -o /dev/null
quote=$(send POST "/evaluations/$id/quotes" -d '{"about": "Rack 17"}' | text id)
offered=$(send POST "/quotes/$quote/offer")
printf 'quote: %s\n' "$(printf '%s' "$offered" | text number)"
total=$(printf '%s' "$offered" | grep -o '"required": *{.*' | grep -o '"total": *{[^}]*}' | head -n 1 | text amount)
printf 'total: %s\n' "$total"
printf 'link: %s\n' "$(printf '%s' "$offered" | text link)"
send GET "/quotes/$quote/quote.pdf" -o "$out/quote.pdf"
