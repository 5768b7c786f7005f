/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fields filled from what is picked, and by clicks on the table. */
#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "app/draft-private.h"
#include "pattern/figure.h"

guint
app_draft_count (const char *text)
{
  guint n = 0;
  for (const char *c = text; *c != '\0'; c++)
    n += *c != ' ' && (c == text || c[-1] == ' ');
  return n;
}

char *
app_draft_with_unit (const Pattern *p, const PatternStep *step,
                     const DraftingParameter *parameter, const char *text)
{
  const char *word = pattern_step_get (step, "unit");
  double mm;
  if (parameter->kind != DRAFTING_LENGTH || word == NULL
      || strcmp (word, pattern_unit_word (p->unit)) == 0
      || !pattern_amount_needs_unit (p, text))
    return g_strdup (text);
  for (int unit = PATTERN_MM; unit <= PATTERN_INCH; unit++)
    if (strcmp (word, pattern_unit_word ((PatternUnit)unit)) == 0
        && pattern_amount_evaluate (p, text, (PatternUnit)unit, &mm, NULL))
      return pattern_length_format (mm, p->unit, TRUE);
  return g_strdup (text);
}

/* --- runs of edges ------------------------------------------------------------------- */
static guint
end_node (const PatternPiece *piece, guint edge, gboolean at_end)
{
  int i = pattern_piece_find_edge (piece, edge);
  if (i < 0)
    return 0;
  guint node = at_end ? pattern_piece_edge_last (piece, (guint)i)
                      : piece->edges[i].first;
  return piece->nodes[node % piece->n_nodes].id;
}

/* The node a run ends at, or starts at, in the way it is walked. */
static guint
run_node (const Pattern *p, const PatternRun *run, gboolean at_end)
{
  const PatternPiece *piece = pattern_get_piece (p, run->piece);
  return piece ? end_node (piece, run->edge, at_end != run->reversed) : 0;
}

/* Two nodes that a seam sews together. */
static gboolean
nodes_meet (const Pattern *p, guint a, guint b)
{
  for (guint i = 0; i < p->n_seams; i++)
    for (int at_end = 0; at_end < 2; at_end++)
      {
        guint nodes[2];
        for (int s = 0; s < 2; s++)
          {
            const PatternSide *side = &p->seams[i]->sides[s];
            nodes[s] = run_node (p, &side->runs[at_end ? side->n_runs - 1 : 0],
                                 at_end != 0);
          }
        if ((nodes[0] == a && nodes[1] == b)
            || (nodes[0] == b && nodes[1] == a))
          return TRUE;
      }
  return FALSE;
}

static gboolean
follows (const Pattern *p, const PatternRun *before, const PatternRun *run)
{
  guint a = run_node (p, before, TRUE), b = run_node (p, run, FALSE);
  return a != 0 && (a == b || nodes_meet (p, a, b));
}

static PatternRun
run_of_word (const char *word)
{
  PatternRun run = { .reversed = *word == '-' };
  char *rest = NULL;
  run.piece
      = (guint)g_ascii_strtoull (word + (run.reversed ? 1 : 0), &rest, 10);
  run.edge
      = rest && *rest == '/' ? (guint)g_ascii_strtoull (rest + 1, NULL, 10) : 0;
  return run;
}

/* The ways the edges are walked: each goes on from the one before, in the outline or over
 * a seam; the first of two is turned where only that makes it so. */
static char *
chained (const Pattern *p, const char *text)
{
  g_auto (GStrv) words = g_strsplit (text, " ", -1);
  g_autoptr (GString) all = g_string_new (NULL);
  g_autoptr (GArray) runs = g_array_new (FALSE, FALSE, sizeof (PatternRun));
  for (guint i = 0; words[i]; i++)
    if (*words[i] != '\0')
      {
        PatternRun run = run_of_word (words[i]);
        g_array_append_val (runs, run);
      }
  for (guint i = 1; i < runs->len; i++)
    {
      PatternRun *before = &g_array_index (runs, PatternRun, i - 1);
      PatternRun *run = &g_array_index (runs, PatternRun, i);
      gboolean found = FALSE;
      for (int way = 0; way < (i == 1 ? 4 : 2) && !found; way++)
        {
          PatternRun a = *before, b = *run;
          a.reversed = a.reversed != ((way & 2) != 0);
          b.reversed = b.reversed != ((way & 1) != 0);
          found = follows (p, &a, &b);
          if (found)
            *before = a, *run = b;
        }
    }
  for (guint i = 0; i < runs->len; i++)
    {
      const PatternRun *run = &g_array_index (runs, PatternRun, i);
      g_string_append_printf (all, "%s%s%u/%u", i > 0 ? " " : "",
                              run->reversed ? "-" : "", run->piece, run->edge);
    }
  return g_strdup (all->str);
}

/* --- into a field ---------------------------------------------------------------------- */
static gboolean
same_thing (const char *a, const char *b)
{
  return strcmp (a + (*a == '-'), b + (*b == '-')) == 0;
}

/* Several: added, or taken out where it is there already. */
static void
toggle_in (AppDraft *draft, guint field, const char *word)
{
  g_auto (GStrv) words = g_strsplit (draft->texts[field], " ", -1);
  g_autoptr (GString) all = g_string_new (NULL);
  gboolean was = FALSE;
  for (guint i = 0; words[i]; i++)
    {
      gboolean same = same_thing (words[i], word);
      was |= same;
      if (!same && *words[i] != '\0')
        g_string_append_printf (all, "%s%s", all->len > 0 ? " " : "", words[i]);
    }
  if (!was)
    g_string_append_printf (all, "%s%s", all->len > 0 ? " " : "", word);
  pattern_set_string (&draft->texts[field], all->str);
}

static void
put (AppDraft *draft, guint field, const char *word)
{
  const Pattern *p = app_session_get_pattern (draft->session);
  switch (draft->verb->parameters[field].kind)
    {
    case DRAFTING_EDGES:
      {
        toggle_in (draft, field, word);
        g_autofree char *run = chained (p, draft->texts[field]);
        pattern_set_string (&draft->texts[field], run);
        break;
      }
    case DRAFTING_PIECES:
    case DRAFTING_POINTS:
      toggle_in (draft, field, word);
      break;
    default:
      pattern_set_string (&draft->texts[field], word);
    }
}

gboolean
app_draft_is_place (const AppDraft *draft, guint field)
{
  const DraftingParameter *all = draft->verb->parameters;
  return field > 0 && field < draft->verb->n_parameters
         && all[field].kind == DRAFTING_LENGTH
         && all[field - 1].kind == DRAFTING_EDGE
         && g_str_has_suffix (all[field].key, "at");
}

/* Where on the edge she clicked goes into the length that follows it, where that is a place. */
static void
put_place (AppDraft *draft, guint field, double at)
{
  const Pattern *p = app_session_get_pattern (draft->session);
  if (!app_draft_is_place (draft, field + 1))
    return;
  g_free (draft->texts[field + 1]);
  draft->texts[field + 1] = pattern_length_format (at, p->unit, TRUE);
}

/* --- what a thing fits ----------------------------------------------------------------- */
/* A thing she points at or has picked. */
typedef struct
{
  guint piece, edge, node, seam;
  double at; /* along the edge, or below 0 */
  gboolean is_point;
  GeoPoint point;
} Thing;

static guint
seam_of (const Pattern *p, const Thing *thing, gboolean dart)
{
  const PatternSeam *seam
      = thing->seam != 0 ? pattern_get_seam (p, thing->seam) : NULL;
  for (guint n = 0; seam == NULL && thing->edge != 0; n++)
    {
      seam = pattern_edge_seam (p, thing->piece, thing->edge, n, NULL, NULL);
      if (seam == NULL)
        return 0;
      if (dart && seam->join != PATTERN_JOIN_DART)
        seam = NULL;
    }
  return seam && (!dart || seam->join == PATTERN_JOIN_DART) ? seam->id : 0;
}

/* How the thing is written for the kind of field; NULL where it is none of it. */
static char *
word_for (const Pattern *p, DraftingParameterKind kind, const Thing *thing)
{
  const PatternPiece *piece = pattern_get_piece (p, thing->piece);
  switch (kind)
    {
    case DRAFTING_PIECE:
    case DRAFTING_PIECES:
      return piece ? g_strdup_printf ("%u", piece->id) : NULL;
    case DRAFTING_EDGE:
    case DRAFTING_EDGES:
      return piece && pattern_piece_find_edge (piece, thing->edge) >= 0
                 ? g_strdup_printf ("%u/%u", piece->id, thing->edge)
                 : NULL;
    case DRAFTING_NODE:
      return piece && pattern_piece_find_node (piece, thing->node) >= 0
                 ? g_strdup_printf ("%u/n%u", piece->id, thing->node)
                 : NULL;
    case DRAFTING_SEAM:
    case DRAFTING_DART:
      {
        guint seam = seam_of (p, thing, kind == DRAFTING_DART);
        return seam != 0 ? g_strdup_printf ("s%u", seam) : NULL;
      }
    case DRAFTING_POINT:
    case DRAFTING_POINTS:
      {
        char x[G_ASCII_DTOSTR_BUF_SIZE], y[G_ASCII_DTOSTR_BUF_SIZE];
        if (!thing->is_point)
          return NULL;
        g_ascii_formatd (x, sizeof x, "%.4f", thing->point.x);
        g_ascii_formatd (y, sizeof y, "%.4f", thing->point.y);
        return g_strdup_printf ("%s,%s", x, y);
      }
    default:
      return NULL;
    }
}

static gboolean
fill (AppDraft *draft, guint field, const Thing *thing)
{
  const Pattern *p = app_session_get_pattern (draft->session);
  DraftingParameterKind kind = draft->verb->parameters[field].kind;
  g_autofree char *word = word_for (p, kind, thing);
  if (word == NULL)
    return FALSE;
  put (draft, field, word);
  if (kind == DRAFTING_EDGE && thing->at >= 0)
    put_place (draft, field, thing->at);
  return TRUE;
}

/* --- clicks ---------------------------------------------------------------------------- */
static Thing
thing_under (AppSession *s, GeoPoint at, double reach)
{
  AppHit hit = app_hit (s, at, reach);
  Thing thing = { .is_point = TRUE, .point = at, .at = -1 };
  if (hit.kind == APP_HIT_NODE || hit.kind == APP_HIT_EDGE
      || hit.kind == APP_HIT_HANDLE || hit.kind == APP_HIT_PIECE
      || hit.kind == APP_HIT_MARK)
    thing.piece = hit.piece;
  if (hit.kind == APP_HIT_NODE)
    {
      thing.node = hit.node;
      thing.point = hit.point;
    }
  /* A node lies on its edge, too. */
  AppHit edge = app_hit_edge (s, at, reach);
  if (edge.kind == APP_HIT_EDGE
      && (thing.piece == 0 || thing.piece == edge.piece))
    {
      thing.piece = edge.piece;
      thing.edge = edge.edge;
      thing.at = edge.at;
      if (thing.node == 0)
        thing.point = edge.point;
    }
  return thing;
}

/* The nearest node of the piece within reach of the point: any edge's, not only the
 * picked one's. */
static void
find_node (const Pattern *p, double reach, Thing *thing)
{
  double best = reach;
  for (guint i = 0; i < p->n_pieces; i++)
    for (guint k = 0; k < p->pieces[i]->n_nodes; k++)
      {
        double d = geo_distance (p->pieces[i]->nodes[k].at, thing->point);
        if (d >= best)
          continue;
        best = d;
        thing->piece = p->pieces[i]->id;
        thing->node = p->pieces[i]->nodes[k].id;
      }
}

int
app_draft_fill_click (AppDraft *draft, GeoPoint at, double reach)
{
  const Pattern *p = app_session_get_pattern (draft->session);
  Thing thing = thing_under (draft->session, at, reach);
  if (thing.node == 0)
    find_node (p, reach, &thing);
  guint n = draft->verb->n_parameters;
  const DraftingParameter *all = draft->verb->parameters;
  if (draft->active < n && app_draft_is_pick (&all[draft->active]))
    return fill (draft, draft->active, &thing) ? (int)draft->active : -1;
  /* An amount is being typed: the click is for the first field that is empty and takes it, or
   * for the first that takes it. Places are only taken by a field that was chosen. */
  for (int empty = 1; empty >= 0; empty--)
    for (guint i = 0; i < n; i++)
      if (app_draft_is_pick (&all[i]) && all[i].kind < DRAFTING_POINT
          && (!empty || *draft->texts[i] == '\0') && fill (draft, i, &thing))
        return (int)i;
  return -1;
}

/* --- what is picked -------------------------------------------------------------------- */
static GArray *
things_picked (AppSession *s)
{
  const AppPick *pick = app_session_get_pick (s);
  GArray *things = g_array_new (FALSE, FALSE, sizeof (Thing));
  guint n = pick->kind == APP_PICK_EDGE ? 1 : pick->n_ids;
  for (guint i = 0; i < n; i++)
    {
      Thing thing = { .at = -1 };
      switch (pick->kind)
        {
        case APP_PICK_PIECES:
          thing.piece = pick->ids[i];
          break;
        case APP_PICK_EDGE:
          thing.piece = pick->piece;
          thing.edge = pick->edge;
          break;
        case APP_PICK_NODES:
          thing.piece = pick->piece;
          thing.edge = pick->edge;
          thing.node = pick->ids[i];
          break;
        case APP_PICK_SEAM:
          thing.seam = pick->ids[i];
          break;
        case APP_PICK_MARK:
          thing.piece = pick->piece;
          break;
        default:
          continue;
        }
      g_array_append_val (things, thing);
    }
  return things;
}

/* The sharpest field first: a picked dart's leg is a dart before it is an edge, an edge before
 * it is its piece. */
static const DraftingParameterKind by_sharpness[]
    = { DRAFTING_NODE,  DRAFTING_DART,  DRAFTING_SEAM,  DRAFTING_EDGE,
        DRAFTING_EDGES, DRAFTING_PIECE, DRAFTING_PIECES };

static int
field_for (const Pattern *p, const DraftingVerb *verb, char *const *texts,
           const Thing *thing)
{
  for (guint k = 0; k < G_N_ELEMENTS (by_sharpness); k++)
    for (guint i = 0; i < verb->n_parameters; i++)
      {
        DraftingParameterKind kind = verb->parameters[i].kind;
        gboolean several = kind == DRAFTING_EDGES || kind == DRAFTING_PIECES;
        if (kind != by_sharpness[k] || (texts && *texts[i] != '\0' && !several))
          continue;
        g_autofree char *word = word_for (p, kind, thing);
        if (word != NULL)
          return (int)i;
      }
  return -1;
}

void
app_draft_fill_picked (AppDraft *draft)
{
  const Pattern *p = app_session_get_pattern (draft->session);
  g_autoptr (GArray) things = things_picked (draft->session);
  for (guint i = 0; i < things->len; i++)
    {
      const Thing *thing = &g_array_index (things, Thing, i);
      int field = field_for (p, draft->verb, draft->texts, thing);
      if (field >= 0)
        fill (draft, (guint)field, thing);
    }
}

gboolean
app_draft_fits_pick (AppSession *session, const DraftingVerb *verb)
{
  g_return_val_if_fail (APP_IS_SESSION (session) && verb != NULL, FALSE);
  const Pattern *p = app_session_get_pattern (session);
  g_autoptr (GArray) things = things_picked (session);
  return things->len > 0
         && field_for (p, verb, NULL, &g_array_index (things, Thing, 0)) >= 0;
}

/* --- the list -------------------------------------------------------------------------- */
const char *
app_draft_group_name (DraftingGroup group)
{
  switch (group)
    {
    case DRAFTING_GROUP_DART:
      return _ ("Darts");
    case DRAFTING_GROUP_SPREAD:
      return _ ("Slash and spread");
    case DRAFTING_GROUP_EDGE:
      return _ ("Edges");
    case DRAFTING_GROUP_PIECE:
      return _ ("Pieces");
    case DRAFTING_GROUP_GUIDE:
      return _ ("Guides and figures");
    case DRAFTING_GROUP_TRUE:
      return _ ("Truing");
    case DRAFTING_GROUP_TRACED:
      return _ ("After tracing");
    case DRAFTING_GROUP_DRAFT:
    default:
      return _ ("Linked pieces");
    }
}

gboolean
app_draft_matches (const DraftingVerb *verb, const char *typed)
{
  g_autofree char *all = g_strdup_printf ("%s %s %s", _ (verb->title),
                                          verb->name, _ (verb->hint));
  g_autofree char *text = g_utf8_casefold (all, -1);
  g_autofree char *wanted = g_utf8_casefold (typed, -1);
  g_auto (GStrv) words = g_strsplit (wanted, " ", -1);
  for (guint i = 0; words[i]; i++)
    if (strstr (text, words[i]) == NULL)
      return FALSE;
  return TRUE;
}
