"""Who gets which answer at every address of the site: the table, one line an address and method.

``in``: sent to sign in. 404 where an address names a thing this person may not know of; 403 where a
page belongs to other roles. A line is: method, name of the address, the thing it leads to (see
``tests.factories.world``), then one answer for each of ``PEOPLE``.
"""

from __future__ import annotations

PEOPLE = (
    "stranger", "nobody", "author", "other_author", "reviewer", "tutor", "other_tutor",
    "student", "other_student", "coordinator",
)  # fmt: skip

TABLE = """
#                                               out nob aut oth rev tut ott stu ost coo
GET  home                            nothing    200 200 200 200 200 200 200 200 200 200
GET  livez                           nothing    200 200 200 200 200 200 200 200 200 200
GET  readyz                          nothing    503 503 503 503 503 503 503 503 503 503
GET  metrics                         nothing    200 200 200 200 200 200 200 200 200 200

GET  cases:mine                      nothing    in  404 200 200 404 404 404 404 404 404
GET  cases:new                       nothing    in  404 200 200 404 404 404 404 404 404
POST cases:new                       nothing    in  404 302 302 404 404 404 404 404 404
GET  cases:upload                    nothing    in  404 200 200 404 404 404 404 404 404
POST cases:upload                    nothing    in  404 302 302 404 404 404 404 404 404
POST cases:start-version     published-case     in  404 302 404 404 404 404 404 404 404
GET  cases:version                   draft      in  404 200 404 404 404 404 404 404 404
GET  cases:version                   submitted  in  404 200 404 404 404 404 404 404 404
GET  cases:version                   published  in  404 200 404 404 404 404 404 404 404
POST cases:move                      draft      in  404 302 404 404 404 404 404 404 404
GET  cases:preview                   draft      in  404 200 404 404 404 404 404 404 404
GET  cases:document                  draft      in  404 200 404 404 404 404 404 404 404
POST cases:document                  draft      in  404 302 404 404 404 404 404 404 404
GET  cases:download                  draft      in  404 200 404 404 404 404 404 404 404
GET  cases:download                  published  in  404 200 404 404 404 404 404 404 404
GET  cases:new-finding               draft      in  404 200 404 404 404 404 404 404 404
POST cases:new-finding               draft      in  404 302 404 404 404 404 404 404 404
GET  cases:finding                   draft      in  404 200 404 404 404 404 404 404 404
POST cases:finding                   draft      in  404 302 404 404 404 404 404 404 404
POST cases:remove-finding            draft      in  404 302 404 404 404 404 404 404 404
GET  cases:section                   draft      in  404 200 404 404 404 404 404 404 404
GET  cases:section                   published  in  404 200 404 404 404 404 404 404 404
POST cases:section                   draft      in  404 302 404 404 404 404 404 404 404
POST cases:section                   submitted  in  404 422 404 404 404 404 404 404 404
POST rehearsals:start                draft      in  404 302 404 404 404 404 404 404 404
POST rehearsals:start                submitted  in  404 302 404 404 404 404 404 404 404
POST rehearsals:start                published  in  404 302 404 404 404 404 404 404 404
GET  rehearsals:rehearsal            rehearsal  in  404 200 404 404 404 404 404 404 404
GET  own-cases:figures               draft      in  404 404 404 404 404 404 404 404 404
GET  own-cases:figures               published  in  404 200 404 404 404 404 404 404 404

GET  cases:signs                     nothing    in  403 200 200 200 403 403 403 403 403
POST cases:signs                     nothing    in  403 200 200 200 403 403 403 403 403
GET  cases:sign-sound                encounter  in  403 404 404 404 403 403 403 403 403
GET  cases:sign-drawing              encounter  in  403 404 404 404 403 403 403 403 403

GET  catalogue:index                 nothing    in  403 200 200 200 200 200 200 200 403
GET  catalogue:system                system     in  403 200 200 200 200 200 200 200 403
GET  catalogue:region                region     in  403 200 200 200 200 200 200 200 403
GET  catalogue:step                  step       in  403 200 200 200 200 200 200 200 403

GET  reviews:queue                   nothing    in  404 404 404 200 404 404 404 404 404
GET  reviews:reading                 draft      in  404 404 404 404 404 404 404 404 404
GET  reviews:reading                 submitted  in  404 404 404 200 404 404 404 404 404
GET  reviews:reading                 published  in  404 404 404 200 404 404 404 404 404
POST reviews:comment                 submitted  in  404 404 404 302 404 404 404 404 404
POST reviews:comment                 published  in  404 404 404 422 404 404 404 404 404
POST reviews:move                    draft      in  404 404 404 404 404 404 404 404 404
POST reviews:move                    submitted  in  404 404 404 302 404 404 404 404 404

GET  encounters:patients             nothing    in  403 200 200 200 200 200 200 200 403
GET  encounters:suggest-steps        nothing    in  403 200 200 200 200 200 200 200 403
GET  encounters:suggest-diagnoses    nothing    in  403 200 200 200 200 200 200 200 403
POST encounters:begin                published  in  404 302 302 302 302 302 302 302 404
POST encounters:begin                submitted  in  404 404 404 404 404 404 404 404 404
GET  encounters:sheet                encounter  in  404 404 404 404 404 404 200 404 404
GET  encounters:sheet                concluded  in  404 404 404 404 404 404 200 404 404
POST encounters:ask                  encounter  in  404 404 404 404 404 404 302 404 404
POST encounters:ask                  concluded  in  404 404 404 404 404 404 422 404 404
GET  encounters:read-back            encounter  in  404 404 404 404 404 404 200 404 404
GET  encounters:steps                encounter  in  404 404 404 404 404 404 200 404 404
GET  encounters:step                 encounter  in  404 404 404 404 404 404 200 404 404
POST encounters:reading              encounter  in  404 404 404 404 404 404 404 404 404
GET  encounters:media                encounter  in  404 404 404 404 404 404 404 404 404
GET  encounters:deciding             encounter  in  404 404 404 404 404 404 404 404 404
GET  encounters:deciding             concluded  in  404 404 404 404 404 404 404 404 404
POST encounters:differential         encounter  in  404 404 404 404 404 404 302 404 404
GET  encounters:conclude             encounter  in  404 404 404 404 404 404 200 404 404
POST encounters:conclude             encounter  in  404 404 404 404 404 404 302 404 404
GET  encounters:debrief              encounter  in  404 404 404 404 404 404 302 404 404
GET  encounters:debrief              concluded  in  404 404 404 404 200 404 200 404 404
GET  encounters:debrief-pdf          encounter  in  404 404 404 404 404 404 302 404 404
GET  encounters:debrief-pdf          concluded  in  404 404 404 404 200 404 200 404 404
POST encounters:comment              encounter  in  404 404 404 404 404 404 404 404 404
POST encounters:comment              concluded  in  404 404 404 404 302 404 404 404 404
POST encounters:adjust               encounter  in  404 404 404 404 404 404 404 404 404
POST encounters:adjust               concluded  in  404 404 404 404 302 404 404 404 404
GET  encounters:concluded            nothing    in  403 403 403 403 200 200 403 403 403
GET  encounters:progress             nothing    in  403 200 200 200 200 200 200 200 403
GET  encounters:record-json          nothing    in  403 200 200 200 200 200 200 200 403
GET  encounters:record-csv           nothing    in  403 200 200 200 200 200 200 200 403

GET  analytics:reports               nothing    in  403 403 403 403 200 200 403 403 200
POST analytics:ask                   year       in  404 404 404 404 302 404 404 404 302
GET  analytics:report                report     in  404 404 404 404 200 404 404 404 200
GET  analytics:report-csv            report     in  404 404 404 404 200 404 404 404 200
GET  jobs:show                       job        in  404 404 404 404 200 404 404 404 404
POST jobs:cancel                     job        in  404 404 404 404 302 404 404 404 404

GET  accounts:people                 nothing    in  403 403 403 403 403 403 403 403 200
GET  accounts:new-person             nothing    in  403 403 403 403 403 403 403 403 200
POST accounts:new-person             nothing    in  403 403 403 403 403 403 403 403 302
GET  accounts:person                 person     in  404 404 404 404 404 404 404 404 200
POST accounts:person                 person     in  404 404 404 404 404 404 404 404 302
GET  accounts:new-cohort             nothing    in  403 403 403 403 403 403 403 403 200
POST accounts:new-cohort             nothing    in  403 403 403 403 403 403 403 403 302
GET  accounts:cohort                 year       in  404 404 404 404 404 404 404 404 200
POST accounts:cohort                 year       in  404 404 404 404 404 404 404 404 302
POST accounts:leave                  year       in  404 404 404 404 404 404 404 404 302
GET  accounts:tokens                 nothing    in  200 200 200 200 200 200 200 200 200
POST accounts:tokens                 nothing    in  200 200 200 200 200 200 200 200 200
POST accounts:revoke-token           token      in  404 404 404 404 404 404 302 404 404

GET  api:schema                      nothing    200 200 200 200 200 200 200 200 200 200
GET  api:cases                       nothing    401 200 200 200 200 200 200 200 200 200
POST api:cases                       nothing    401 403 201 201 403 403 403 403 403 403
GET  api:case-version                draft      401 404 200 404 404 404 404 404 404 404
GET  api:case-version                submitted  401 404 200 404 200 404 404 404 404 404
GET  api:case-version                published  401 404 200 404 200 404 404 404 404 404
PUT  api:case-version                draft      401 404 200 404 404 404 404 404 404 404
PUT  api:case-version                submitted  401 404 409 404 409 404 404 404 404 404
POST api:case-moves                  draft      401 404 409 404 404 404 404 404 404 404
POST api:case-moves                  submitted  401 404 409 404 200 404 404 404 404 404
GET  api:case-comments               draft      401 404 200 404 404 404 404 404 404 404
GET  api:case-comments               submitted  401 404 200 404 200 404 404 404 404 404
POST api:case-comments               submitted  401 404 409 404 201 404 404 404 404 404
POST api:case-rehearsals             draft      401 404 202 404 404 404 404 404 404 404
POST api:case-rehearsals             submitted  401 404 202 404 404 404 404 404 404 404
POST api:case-rehearsals             published  401 404 409 404 404 404 404 404 404 404
GET  api:rehearsal                   rehearsal  401 404 200 404 404 404 404 404 404 404
GET  api:case-figures                draft      401 404 404 404 404 404 404 404 404 404
GET  api:case-figures                published  401 404 200 404 404 404 404 404 404 404
GET  api:steps                       nothing    401 403 200 200 200 200 200 200 200 403
GET  api:step                        step       401 404 200 200 200 200 200 200 200 404
GET  api:patients                    nothing    401 403 200 200 200 200 200 200 200 403
POST api:encounters                  nothing    401 403 201 201 201 201 201 201 201 403
GET  api:encounter                   encounter  401 404 404 404 404 404 404 200 404 404
POST api:requests                    encounter  401 404 404 404 404 404 404 201 404 404
POST api:differential                encounter  401 404 404 404 404 404 404 201 404 404
POST api:conclusion                  encounter  401 404 404 404 404 404 404 201 404 404
GET  api:debrief                     encounter  401 404 404 404 404 404 404 409 404 404
GET  api:debrief                     concluded  401 404 404 404 404 200 404 200 404 404
POST api:readings                    encounter  401 404 404 404 404 404 404 422 404 404
POST api:comments                    encounter  401 404 404 404 404 404 404 404 404 404
POST api:comments                    concluded  401 404 404 404 404 201 404 404 404 404
POST api:adjustments                 encounter  401 404 404 404 404 404 404 404 404 404
POST api:adjustments                 concluded  401 404 404 404 404 201 404 404 404 404
GET  api:cohorts                     nothing    401 403 403 403 403 200 200 403 403 200
POST api:cohort-reports              year       401 404 404 404 404 202 404 404 404 202
GET  api:report                      report     401 404 404 404 404 200 404 404 404 200
"""
# Pages of the sign-in library: one answer for strangers, one for everybody who is signed in.
SIGN_IN = """
GET  account_login                     200 302
GET  account_logout                    302 200
GET  account_inactive                  200 200
GET  account_signup                    200 302
GET  account_reauthenticate            in  200
GET  account_email                     in  200
GET  account_email_verification_sent   200 200
GET  account_change_password           in  200
GET  account_set_password              in  302
GET  account_reset_password            200 200
GET  account_reset_password_done       200 200
GET  account_reset_password_from_key_done 200 200
GET  account_confirm_login_code        302 302
GET  account_confirm_email             200 200
GET  account_reset_password_from_key   200 200
GET  mfa_index                         in  200
GET  mfa_authenticate                  302 302
GET  mfa_reauthenticate                in  302
GET  mfa_activate_totp                 in  302
GET  mfa_deactivate_totp               in  404
GET  mfa_view_recovery_codes           in  404
GET  mfa_generate_recovery_codes       in  302
GET  mfa_download_recovery_codes       in  404
GET  mfa_list_webauthn                 in  200
GET  mfa_add_webauthn                  in  302
GET  mfa_reauthenticate_webauthn       in  302
GET  mfa_remove_webauthn               in  302
GET  mfa_edit_webauthn                 in  302
"""
