// The server's tables, functions and rights, as SQL that may run twice. Everything begins with the house, so that partitions or a
// distributed PostgreSQL change no query. Events are appended by a trigger's leave only, and changed by nobody.

/** Raised when the SQL below changes in a way that an older server must be told of. */
export const SERVER_VERSION = 1;
/** Hash partitions of the events; more are a matter of moving rows, not of queries. */
const PARTITIONS = 8;
/** So far in its future the server takes no event, as an interval. */
const FUTURE = '5 minutes';

export const STATION_ROLE = 'ullage_station';
export const GROUP_ROLE = 'ullage_group';

const safePath = 'SET search_path = pg_catalog, ullage, pg_temp';

const roles = `
DO $$ BEGIN
  IF NOT EXISTS (SELECT FROM pg_roles WHERE rolname = '${STATION_ROLE}') THEN CREATE ROLE ${STATION_ROLE} NOLOGIN; END IF;
  IF NOT EXISTS (SELECT FROM pg_roles WHERE rolname = '${GROUP_ROLE}') THEN CREATE ROLE ${GROUP_ROLE} NOLOGIN; END IF;
END $$;`;

const tables = `
CREATE SCHEMA IF NOT EXISTS ullage;
REVOKE ALL ON SCHEMA ullage FROM PUBLIC;
CREATE TABLE IF NOT EXISTS ullage.about (version int NOT NULL);
CREATE TABLE IF NOT EXISTS ullage.house (
  id uuid PRIMARY KEY DEFAULT gen_random_uuid(),
  name text NOT NULL UNIQUE CHECK (length(name) BETWEEN 1 AND 60)
);
CREATE TABLE IF NOT EXISTS ullage.station (
  house uuid NOT NULL REFERENCES ullage.house,
  id text NOT NULL CHECK (id ~ '^[a-z0-9][a-z0-9-]{0,39}$'),
  name text NOT NULL CHECK (length(name) BETWEEN 1 AND 60),
  login text UNIQUE,
  -- Under this name another station wrote its books before it joined: that one sends them.
  of text,
  joined_at timestamptz,
  left_at timestamptz,
  heard_at timestamptz,
  resting boolean NOT NULL DEFAULT true,
  -- The last of its own events that it had when it was heard.
  head bigint NOT NULL DEFAULT 0,
  -- The last of its events that another station was heard to have while it was not here, and who that was.
  known bigint NOT NULL DEFAULT 0,
  known_by text,
  PRIMARY KEY (house, id),
  FOREIGN KEY (house, of) REFERENCES ullage.station (house, id),
  CHECK ((login IS NULL) = (of IS NOT NULL))
);
-- What came to a table later stands here, for servers that were prepared before.
ALTER TABLE ullage.station ADD COLUMN IF NOT EXISTS head bigint NOT NULL DEFAULT 0;
ALTER TABLE ullage.station ADD COLUMN IF NOT EXISTS known bigint NOT NULL DEFAULT 0;
ALTER TABLE ullage.station ADD COLUMN IF NOT EXISTS known_by text;
ALTER TABLE ullage.station DROP COLUMN IF EXISTS behind;
CREATE TABLE IF NOT EXISTS ullage.event (
  house uuid NOT NULL,
  station text NOT NULL,
  seq bigint NOT NULL CHECK (seq >= 1),
  id uuid NOT NULL,
  at timestamptz NOT NULL,
  kind text NOT NULL,
  body text NOT NULL CHECK (length(body) BETWEEN 2 AND 100000),
  hash bytea NOT NULL CHECK (length(hash) = 32),
  arrived bigint NOT NULL,
  arrived_at timestamptz NOT NULL,
  PRIMARY KEY (house, station, seq),
  UNIQUE (house, id),
  UNIQUE (house, arrived),
  FOREIGN KEY (house, station) REFERENCES ullage.station (house, id)
) PARTITION BY HASH (house);
${Array.from(
  { length: PARTITIONS },
  (_, part) =>
    `CREATE TABLE IF NOT EXISTS ullage.event_${part} PARTITION OF ullage.event FOR VALUES WITH (MODULUS ${PARTITIONS}, REMAINDER ${part});`,
).join('\n')}`;

/**
 * An event enters: in the order of its station's numbers, on its station's chain (FIPS 180-4, 2015: SHA-256 over the hash before and
 * the text), under a lock on its house, so that the order of `arrived` is the order of commits. What is there already is left to
 * the conflict.
 */
const entering = `
CREATE OR REPLACE FUNCTION ullage.event_enters() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER ${safePath} AS $$
DECLARE
  said jsonb;
  last_seq bigint;
  last_hash bytea;
BEGIN
  -- A lock that no station can take: it may not change the house.
  PERFORM 1 FROM ullage.house WHERE id = NEW.house FOR NO KEY UPDATE;
  SELECT seq, hash INTO last_seq, last_hash FROM ullage.event
    WHERE house = NEW.house AND station = NEW.station ORDER BY seq DESC LIMIT 1;
  last_seq := coalesce(last_seq, 0);
  said := NEW.body::jsonb;
  NEW.id := (said->>'id')::uuid;
  NEW.at := (said->>'at')::timestamptz;
  NEW.kind := said->>'kind';
  NEW.arrived := coalesce((SELECT max(arrived) FROM ullage.event WHERE house = NEW.house), 0) + 1;
  NEW.arrived_at := clock_timestamp();
  IF NEW.seq <= last_seq THEN RETURN NEW; END IF;
  IF NEW.seq <> last_seq + 1 THEN
    RAISE EXCEPTION 'event % of % after %', NEW.seq, NEW.station, last_seq USING ERRCODE = 'UL001'; END IF;
  IF NEW.hash <> sha256(convert_to(encode(coalesce(last_hash, decode(repeat('00', 32), 'hex')), 'hex') || E'\\n' || NEW.body, 'UTF8')) THEN
    RAISE EXCEPTION 'event % of % is not on its chain', NEW.seq, NEW.station USING ERRCODE = 'UL002'; END IF;
  IF said->>'station' IS DISTINCT FROM NEW.station OR (said->>'seq')::bigint IS DISTINCT FROM NEW.seq THEN
    RAISE EXCEPTION 'event % of % says otherwise', NEW.seq, NEW.station USING ERRCODE = 'UL003'; END IF;
  IF NEW.at > clock_timestamp() + interval '${FUTURE}' THEN
    RAISE EXCEPTION 'event % of % lies ahead', NEW.seq, NEW.station USING ERRCODE = 'UL004'; END IF;
  RETURN NEW;
END $$;
CREATE OR REPLACE TRIGGER event_enters BEFORE INSERT ON ullage.event FOR EACH ROW EXECUTE FUNCTION ullage.event_enters();

CREATE OR REPLACE FUNCTION ullage.event_came() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER ${safePath} AS $$
DECLARE one uuid;
BEGIN
  FOR one IN SELECT DISTINCT house FROM added LOOP PERFORM pg_notify(ullage.channel_of(one), ''); END LOOP;
  RETURN NULL;
END $$;
CREATE OR REPLACE TRIGGER event_came AFTER INSERT ON ullage.event
  REFERENCING NEW TABLE AS added FOR EACH STATEMENT EXECUTE FUNCTION ullage.event_came();

CREATE OR REPLACE FUNCTION ullage.event_stays() RETURNS trigger LANGUAGE plpgsql ${safePath} AS $$
BEGIN RAISE EXCEPTION 'events are never changed and never deleted' USING ERRCODE = 'UL020'; END $$;
CREATE OR REPLACE TRIGGER event_stays BEFORE UPDATE OR DELETE ON ullage.event FOR EACH ROW EXECUTE FUNCTION ullage.event_stays();
${['event', ...Array.from({ length: PARTITIONS }, (_, part) => `event_${part}`)]
  .map(
    (table) =>
      `CREATE OR REPLACE TRIGGER event_remains BEFORE TRUNCATE ON ullage.${table} FOR EACH STATEMENT EXECUTE FUNCTION ullage.event_stays();`,
  )
  .join('\n')}`;

/** Who asks: by the role that signed in, whatever it was set to since. */
const asking = `
CREATE OR REPLACE FUNCTION ullage.channel_of(house uuid) RETURNS text LANGUAGE sql IMMUTABLE AS
  $$ SELECT 'ullage_' || replace(house::text, '-', '') $$;
CREATE OR REPLACE FUNCTION ullage.my_house() RETURNS uuid LANGUAGE sql STABLE SECURITY DEFINER ${safePath} AS
  $$ SELECT house FROM ullage.station WHERE login = session_user AND left_at IS NULL $$;
CREATE OR REPLACE FUNCTION ullage.my_stations() RETURNS text[] LANGUAGE sql STABLE SECURITY DEFINER ${safePath} AS
  $$ SELECT array_agg(s.id) FROM ullage.station me JOIN ullage.station s ON s.house = me.house AND me.id IN (s.id, s.of)
     WHERE me.login = session_user AND me.left_at IS NULL $$;

-- The first station of a house may bring books that were kept under other names: only while nothing is there.
CREATE OR REPLACE FUNCTION ullage.bring(names text[]) RETURNS void LANGUAGE plpgsql SECURITY DEFINER ${safePath} AS $$
DECLARE me ullage.station;
BEGIN
  SELECT * INTO me FROM ullage.station WHERE login = session_user AND left_at IS NULL;
  IF NOT FOUND THEN RAISE EXCEPTION 'no station' USING ERRCODE = 'UL010'; END IF;
  PERFORM 1 FROM ullage.house WHERE id = me.house FOR NO KEY UPDATE;
  IF EXISTS (SELECT FROM ullage.event WHERE house = me.house) THEN
    RAISE EXCEPTION 'the house has events' USING ERRCODE = 'UL011'; END IF;
  IF cardinality(names) > 50 OR EXISTS (SELECT FROM ullage.station s WHERE s.house = me.house
      AND ((s.id = ANY (names) AND s.id <> me.id AND s.of IS DISTINCT FROM me.id) OR (s.of IS NOT NULL AND s.of <> me.id))) THEN
    RAISE EXCEPTION 'a name is taken' USING ERRCODE = 'UL012'; END IF;
  INSERT INTO ullage.station (house, id, name, of)
    SELECT me.house, one, one, me.id FROM unnest(names) AS one WHERE one <> me.id ON CONFLICT DO NOTHING;
END $$;`;

/**
 * The beginning of every exchange in one question: who I am, what the server holds of each station I know, where what I lack
 * begins, how the others are. It also notes that I was heard.
 */
const greeting = `
CREATE OR REPLACE FUNCTION ullage.hello(heads jsonb, rests boolean) RETURNS jsonb LANGUAGE plpgsql SECURITY DEFINER ${safePath} AS $$
DECLARE
  me ullage.station;
  answer jsonb;
BEGIN
  SELECT * INTO me FROM ullage.station WHERE login = session_user AND left_at IS NULL;
  IF NOT FOUND THEN RAISE EXCEPTION 'no station' USING ERRCODE = 'UL010'; END IF;
  -- That somebody was heard need not be on disk at once.
  PERFORM set_config('synchronous_commit', 'off', true);
  UPDATE ullage.station SET heard_at = clock_timestamp(), joined_at = coalesce(joined_at, clock_timestamp()), resting = rests,
      head = coalesce((heads->>me.id)::bigint, head)
    WHERE house = me.house AND id = me.id;
  -- What another station wrote, stands at this one and not here: whoever goes on in that one's name has to have it first.
  UPDATE ullage.station s SET known = (heads->>s.id)::bigint, known_by = me.id
    WHERE s.house = me.house AND s.id <> me.id AND s.of IS DISTINCT FROM me.id AND (heads->>s.id)::bigint > s.known
      AND (heads->>s.id)::bigint > coalesce((SELECT max(e.seq) FROM ullage.event e WHERE e.house = s.house AND e.station = s.id), 0);
  SELECT jsonb_build_object(
    'now', to_char(clock_timestamp() AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"'),
    'house', me.house, 'houseName', (SELECT name FROM ullage.house WHERE id = me.house), 'station', me.id,
    'channel', ullage.channel_of(me.house),
    'version', (SELECT max(version) FROM ullage.about),
    'arrived', coalesce((SELECT max(arrived) FROM ullage.event WHERE house = me.house), 0),
    'stations', (SELECT jsonb_agg(jsonb_build_object(
        'id', s.id, 'name', s.name, 'of', s.of, 'mine', s.id = me.id OR coalesce(s.of = me.id, false), 'resting', s.resting,
        'behind', greatest(0, s.head - held.last), 'known', s.known, 'knownBy', s.known_by, 'left', s.left_at IS NOT NULL,
        'quietMs', CASE WHEN s.heard_at IS NULL THEN NULL ELSE round(extract(epoch FROM clock_timestamp() - s.heard_at) * 1000) END,
        'heardAt', to_char(s.heard_at AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"'),
        'seq', held.last,
        'hash', (SELECT encode(e.hash, 'hex') FROM ullage.event e WHERE e.house = me.house AND e.station = s.id
                   AND e.seq <= (heads->>s.id)::bigint ORDER BY e.seq DESC LIMIT 1),
        'next', (SELECT e.arrived FROM ullage.event e WHERE e.house = me.house AND e.station = s.id
                   AND e.seq = coalesce((heads->>s.id)::bigint, 0) + 1)
      ) ORDER BY s.id) FROM ullage.station s, LATERAL (SELECT coalesce(max(e.seq), 0) AS last FROM ullage.event e
          WHERE e.house = me.house AND e.station = s.id) AS held WHERE s.house = me.house),
    'unsafe', (SELECT coalesce(jsonb_agg(name), '[]') FROM pg_settings WHERE (name = 'fsync' AND setting = 'off'))
      || CASE WHEN (SELECT reset_val FROM pg_settings WHERE name = 'synchronous_commit') = 'off' THEN '["synchronous_commit"]'::jsonb ELSE '[]' END
  ) INTO answer;
  RETURN answer;
END $$;`;

const rights = `
ALTER TABLE ullage.house ENABLE ROW LEVEL SECURITY;
ALTER TABLE ullage.station ENABLE ROW LEVEL SECURITY;
ALTER TABLE ullage.event ENABLE ROW LEVEL SECURITY;
REVOKE ALL ON ALL TABLES IN SCHEMA ullage FROM PUBLIC, ${STATION_ROLE}, ${GROUP_ROLE};
REVOKE ALL ON ALL FUNCTIONS IN SCHEMA ullage FROM PUBLIC;
GRANT USAGE ON SCHEMA ullage TO ${STATION_ROLE}, ${GROUP_ROLE};
GRANT EXECUTE ON FUNCTION ullage.my_house(), ullage.my_stations(), ullage.hello(jsonb, boolean), ullage.bring(text[]) TO ${STATION_ROLE};
GRANT SELECT ON ullage.house, ullage.event, ullage.about TO ${STATION_ROLE}, ${GROUP_ROLE};
GRANT SELECT (house, id, name, of, joined_at, left_at, heard_at, resting, head) ON ullage.station TO ${STATION_ROLE}, ${GROUP_ROLE};
GRANT INSERT (house, station, seq, body, hash) ON ullage.event TO ${STATION_ROLE};
DROP POLICY IF EXISTS own_house ON ullage.house;
CREATE POLICY own_house ON ullage.house FOR SELECT TO ${STATION_ROLE} USING (id = (SELECT ullage.my_house()));
DROP POLICY IF EXISTS own_stations ON ullage.station;
CREATE POLICY own_stations ON ullage.station FOR SELECT TO ${STATION_ROLE} USING (house = (SELECT ullage.my_house()));
DROP POLICY IF EXISTS own_events ON ullage.event;
CREATE POLICY own_events ON ullage.event FOR SELECT TO ${STATION_ROLE} USING (house = (SELECT ullage.my_house()));
DROP POLICY IF EXISTS own_appends ON ullage.event;
CREATE POLICY own_appends ON ullage.event FOR INSERT TO ${STATION_ROLE}
  WITH CHECK (house = (SELECT ullage.my_house()) AND station = ANY ((SELECT ullage.my_stations())::text[]));
DROP POLICY IF EXISTS group_houses ON ullage.house;
CREATE POLICY group_houses ON ullage.house FOR SELECT TO ${GROUP_ROLE} USING (true);
DROP POLICY IF EXISTS group_stations ON ullage.station;
CREATE POLICY group_stations ON ullage.station FOR SELECT TO ${GROUP_ROLE} USING (true);
DROP POLICY IF EXISTS group_events ON ullage.event;
CREATE POLICY group_events ON ullage.event FOR SELECT TO ${GROUP_ROLE} USING (true);`;

const version = `
DELETE FROM ullage.about;
INSERT INTO ullage.about VALUES (${SERVER_VERSION});`;

/** Nobody appends while the tables are looked after: taken first, and in the order in which an append takes them. */
const alone = `
DO $$ BEGIN
  IF to_regclass('ullage.event') IS NOT NULL THEN
    LOCK TABLE ullage.event, ullage.house, ullage.station IN ACCESS EXCLUSIVE MODE; END IF; END $$;`;

/** Everything, in the order in which one part needs another. */
export const serverSchema: readonly string[] = [
  alone,
  roles,
  tables,
  asking,
  entering,
  greeting,
  rights,
  version,
];
