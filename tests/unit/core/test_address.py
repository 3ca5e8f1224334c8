"""The address the message transport reads is the one Django has, whatever is in it."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from pgmq.base import PGMQConfig
from psycopg.conninfo import conninfo_to_dict

from casebank.core.server.address import broker_conninfo, is_embedded

VALUES = st.text(st.characters(exclude_characters="\0", exclude_categories=["Cs"]), min_size=1)


@given(host=VALUES, name=VALUES, user=VALUES, password=VALUES)
def test_every_value_survives_both_readings(host, name, user, password):
    django = {"HOST": host, "PORT": 5433, "NAME": name, "USER": user, "PASSWORD": password}
    read_by_transport = PGMQConfig(conn_string=broker_conninfo(django))
    read_by_libpq = conninfo_to_dict(read_by_transport.dsn)
    assert read_by_libpq == {
        "host": host,
        "port": "5433",
        "dbname": name,
        "user": user,
        "password": password,
    }


def test_what_django_leaves_empty_is_left_out():
    assert broker_conninfo({"HOST": "/srv/run", "NAME": "c", "USER": "u", "PASSWORD": ""}) == (
        "host=/srv/run dbname=c user=u"
    )


def test_an_address_or_a_file_with_one_turns_the_embedded_server_off():
    assert is_embedded({})
    assert is_embedded({"DATABASE_URL": ""})
    assert not is_embedded({"DATABASE_URL": "postgres://elsewhere/casebank"})
    assert not is_embedded({"DATABASE_URL_FILE": "/run/secrets/database"})
