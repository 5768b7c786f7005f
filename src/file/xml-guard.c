/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "file/xml-guard.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n.h>
#include <glib/gstdio.h>
#include <libxml/parser.h>
#include <libxml/parserInternals.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "file/document.h"

/* A part is read to its end after an error in it, so parts are small. */
#define PART 16384
#define ENTITY_BYTES 4096
#define ENTITIES_BYTES 65536

typedef struct
{
  xmlParserCtxtPtr parser;
  const FileXmlHandler *handler;
  gpointer data;
  GHashTable *entities; /* name -> xmlEntity */
  gsize entity_bytes;   /* put in so far */
  GArray *attributes;
  guint depth, elements;
  GError *error; /* the first; nothing is told after it */
  guint error_line;
} Guard;

/* --- limits before the parser sees anything ------------------------------- */
static const char *
skip_past (const char *at, const char *end, const char *mark)
{
  const char *found = memmem (at, (gsize)(end - at), mark, strlen (mark));
  return found != NULL ? found + strlen (mark) : end;
}

/* From just after "<" of a start tag, or of a declaration, to just after its ">";
 * count gets how many "=" stand outside quotes. */
static const char *
scan_tag (const char *at, const char *end, guint *count)
{
  char quote = 0;
  *count = 0;
  for (; at < end; at++)
    if (quote != 0)
      {
        const char *close = memchr (at, quote, (gsize)(end - at));
        if (close == NULL)
          return end;
        at = close;
        quote = 0;
      }
    else if (*at == '"' || *at == '\'')
      quote = *at;
    else if (*at == '=')
      ++*count;
    else if (*at == '>' || *at == '[')
      return at + 1;
    else if (*at == '<') /* not well-formed; the parser says so */
      return at;
  return end;
}

/* FALSE with the line where an element has too many attributes. In a text that is not
 * well-formed this may lose its way, but never before the place where the parser stops. */
static gboolean
scan_attributes (const char *text, gsize length, guint *line)
{
  const char *end = text + length;
  const char *at = text;
  while ((at = memchr (at, '<', (gsize)(end - at))) != NULL)
    {
      gsize left = (gsize)(end - at);
      guint count;
      const char *tag = at;
      if (left >= 4 && memcmp (at, "<!--", 4) == 0)
        at = skip_past (at + 4, end, "-->");
      else if (left >= 9 && memcmp (at, "<![CDATA[", 9) == 0)
        at = skip_past (at + 9, end, "]]>");
      else if (left >= 2 && at[1] == '?')
        at = skip_past (at + 2, end, "?>");
      else
        {
          at = scan_tag (at + 1, end, &count);
          if (count > FILE_XML_MAX_ATTRIBUTES && tag[1] != '!')
            {
              *line = 1;
              for (const char *c = text; c < tag; c++)
                *line += *c == '\n';
              return FALSE;
            }
        }
    }
  return TRUE;
}

/* The coding named in the XML declaration, or NULL. */
static char *
declared_coding (const char *text, gsize length)
{
  if (length < 6 || memcmp (text, "<?xml", 5) != 0)
    return NULL;
  gsize n = MIN (length, 400);
  g_autofree char *head = g_strndup (text, n);
  char *close = strstr (head, "?>");
  if (close == NULL)
    return NULL;
  *close = '\0';
  char *at = strstr (head, "encoding");
  if (at == NULL)
    return NULL;
  at += strlen ("encoding");
  at += strspn (at, " \t\r\n=");
  if (*at != '"' && *at != '\'')
    return NULL;
  char *stop = strchr (at + 1, *at);
  return stop != NULL ? g_strndup (at + 1, (gsize)(stop - at - 1)) : NULL;
}

/* As UTF-8 without a byte order mark; *held is what has to be freed. */
static gboolean
to_utf8 (const char **text, gsize *length, char **held, GError **error)
{
  const guchar *b = (const guchar *)*text;
  gsize n = *length;
  g_autofree char *coding = NULL;
  if (n >= 3 && b[0] == 0xEF && b[1] == 0xBB && b[2] == 0xBF)
    {
      *text += 3;
      *length -= 3;
      return TRUE;
    }
  if (n >= 2
      && ((b[0] == 0xFF && b[1] == 0xFE) || (b[0] == 0xFE && b[1] == 0xFF)))
    coding = g_strdup ("UTF-16");
  else if (n >= 4 && b[0] == '<' && b[1] == 0 && b[2] == '?' && b[3] == 0)
    coding = g_strdup ("UTF-16LE");
  else if (n >= 4 && b[0] == 0 && b[1] == '<' && b[2] == 0 && b[3] == '?')
    coding = g_strdup ("UTF-16BE");
  else
    coding = declared_coding (*text, n);
  if (coding == NULL || g_ascii_strcasecmp (coding, "UTF-8") == 0
      || g_ascii_strcasecmp (coding, "UTF8") == 0)
    return TRUE;
  gsize written = 0;
  *held = g_convert (*text, (gssize)n, "UTF-8", coding, NULL, &written, NULL);
  if (*held == NULL)
    {
      g_autofree char *shown = g_utf8_make_valid (coding, -1);
      g_set_error (error, FILE_ERROR, FILE_ERROR_BROKEN,
                   _ ("its letters are said to be coded as “%s”, and can't be "
                      "read that way."),
                   shown);
      return FALSE;
    }
  *text = *held;
  *length = written;
  return TRUE;
}

/* --- entities --------------------------------------------------------------- */
static void
free_entity (gpointer data)
{
  xmlEntity *e = data;
  g_free ((char *)e->name);
  g_free (e->content);
  if (e->orig != NULL) /* put there by the parser */
    xmlFree (e->orig);
  g_free (e);
}

static void
on_entity_decl (void *data, const xmlChar *name, int type,
                const xmlChar *public_id, const xmlChar *system_id,
                xmlChar *content)
{
  Guard *g = data;
  (void)public_id;
  (void)system_id;
  const char *text = (const char *)content;
  if (type != XML_INTERNAL_GENERAL_ENTITY || text == NULL
      || strlen (text) > ENTITY_BYTES || strpbrk (text, "<&") != NULL
      || g_hash_table_contains (g->entities, name))
    return;
  xmlEntity *e = g_new0 (xmlEntity, 1);
  e->type = XML_ENTITY_DECL;
  e->etype = XML_INTERNAL_GENERAL_ENTITY;
  e->name = (xmlChar *)g_strdup ((const char *)name);
  e->content = (xmlChar *)g_strdup (text);
  e->length = (int)strlen (text);
  g_hash_table_insert (g->entities, (char *)e->name, e);
}

static xmlEntityPtr
on_get_entity (void *data, const xmlChar *name)
{
  Guard *g = data;
  xmlEntity *e = g_hash_table_lookup (g->entities, name);
  if (e == NULL || g->parser->inSubset != 0)
    return e;
  g->entity_bytes += (gsize)e->length;
  return g->entity_bytes <= ENTITIES_BYTES ? e : NULL;
}

/* --- what the parser tells -------------------------------------------------- */
static guint
line_now (const Guard *g)
{
  int line = xmlSAX2GetLineNumber (g->parser);
  return line > 0 ? (guint)line : 0;
}

static void
fail (Guard *g, GError *error, guint line)
{
  if (g->error != NULL)
    {
      g_error_free (error);
      return;
    }
  g->error = error;
  g->error_line = line;
}

/* The parser leaves "&#38;" and "&name;" in values, to be put in by who reads them. */
static char *
expand (Guard *g, const char *value)
{
  GString *out = g_string_new (NULL);
  for (const char *amp; (amp = strchr (value, '&')) != NULL;)
    {
      g_string_append_len (out, value, amp - value);
      const char *semi = strchr (amp, ';');
      if (semi == NULL)
        {
          value = amp;
          break;
        }
      g_autofree char *name = g_strndup (amp + 1, (gsize)(semi - amp - 1));
      if (strcmp (name, "#38") == 0)
        g_string_append_c (out, '&');
      else
        {
          const xmlEntity *e = g_hash_table_lookup (g->entities, name);
          if (e != NULL)
            g_string_append (out, (const char *)e->content);
        }
      value = semi + 1;
    }
  g_string_append (out, value);
  return g_string_free (out, FALSE);
}

static void
clear_attributes (Guard *g)
{
  for (guint i = 0; i < g->attributes->len; i++)
    g_free ((char *)g_array_index (g->attributes, FileXmlAttribute, i).value);
  g_array_set_size (g->attributes, 0);
}

static gboolean
within_limits (Guard *g, guint line)
{
  const char *what = NULL;
  if (++g->depth > FILE_XML_MAX_DEPTH)
    what = _ ("elements lie more than 256 deep in each other.");
  else if (++g->elements > FILE_XML_MAX_ELEMENTS)
    what = _ ("there are more than 1,000,000 elements.");
  if (what != NULL)
    fail (g, g_error_new_literal (FILE_ERROR, FILE_ERROR_TOO_BIG, what), line);
  return what == NULL;
}

static void
on_start (void *data, const xmlChar *name, const xmlChar **attributes)
{
  Guard *g = data;
  guint line = line_now (g);
  if (g->error != NULL || !within_limits (g, line))
    return;
  for (; attributes != NULL && attributes[0] != NULL; attributes += 2)
    {
      FileXmlAttribute a
          = { (const char *)attributes[0],
              expand (g, attributes[1] ? (const char *)attributes[1] : "") };
      g_array_append_val (g->attributes, a);
    }
  FileXmlTag tag
      = { (const char *)name, (FileXmlAttribute *)g->attributes->data,
          g->attributes->len, line };
  GError *error = NULL;
  if (!g->handler->start (g->data, &tag, &error))
    fail (g, error, line);
  clear_attributes (g);
}

static void
on_end (void *data, const xmlChar *name)
{
  Guard *g = data;
  GError *error = NULL;
  if (g->error != NULL)
    return;
  g->depth--;
  guint line = line_now (g);
  if (!g->handler->end (g->data, (const char *)name, line, &error))
    fail (g, error, line);
}

static void
on_text (void *data, const xmlChar *text, int length)
{
  Guard *g = data;
  GError *error = NULL;
  if (g->error == NULL && length > 0
      && !g->handler->text (g->data, (const char *)text, (gsize)length, &error))
    fail (g, error, line_now (g));
}

static void on_error (void *data, const char *format, ...) G_GNUC_PRINTF (2, 3);

static void
on_error (void *data, const char *format, ...)
{
  Guard *g = data;
  const xmlError *last = xmlCtxtGetLastError (g->parser);
  if (g->error != NULL || (last != NULL && last->level != XML_ERR_FATAL))
    return;
  va_list args;
  va_start (args, format);
  g_autofree char *raw = g_strdup_vprintf (format, args);
  va_end (args);
  g_autofree char *words = g_utf8_make_valid (g_strstrip (raw), -1);
  guint line
      = last != NULL && last->line > 0 ? (guint)last->line : line_now (g);
  if (g->entity_bytes > ENTITIES_BYTES)
    fail (g,
          g_error_new_literal (FILE_ERROR, FILE_ERROR_TOO_BIG,
                               _ ("its entities add up to too much text.")),
          line);
  else
    fail (g,
          /* the words in brackets are the XML library's, in English */
          g_error_new (FILE_ERROR, FILE_ERROR_BROKEN,
                       _ ("this is not well-formed XML (%s)."), words),
          line);
}

static xmlParserInputPtr
load_nothing (const char *url, const char *id, xmlParserCtxtPtr parser)
{
  (void)url;
  (void)id;
  (void)parser;
  return NULL;
}

static void
prepare_library (void)
{
  static gsize done = 0;
  if (g_once_init_enter (&done))
    {
      xmlInitParser ();
      xmlSetExternalEntityLoader (load_nothing);
      g_once_init_leave (&done, 1);
    }
}

static void
run_parser (Guard *g, const char *text, gsize length)
{
  xmlSAXHandler sax = {
    .startElement = on_start,
    .endElement = on_end,
    .characters = on_text,
    .ignorableWhitespace = on_text,
    .entityDecl = on_entity_decl,
    .getEntity = on_get_entity,
    .error = on_error,
    .initialized = 1, /* names as written */
  };
  g->parser = xmlCreatePushParserCtxt (&sax, g, NULL, 0, NULL);
  if (g->parser == NULL)
    g_error ("out of memory");
  xmlCtxtUseOptions (g->parser, XML_PARSE_NONET | XML_PARSE_IGNORE_ENC);
  xmlSwitchEncoding (g->parser, XML_CHAR_ENCODING_UTF8);
  for (gsize at = 0; at < length && g->error == NULL; at += PART)
    xmlParseChunk (g->parser, text + at, (int)MIN (PART, length - at), 0);
  if (g->error == NULL)
    xmlParseChunk (g->parser, NULL, 0, 1);
  if (g->error == NULL && !g->parser->wellFormed)
    fail (g,
          g_error_new_literal (FILE_ERROR, FILE_ERROR_BROKEN,
                               _ ("this is not well-formed XML.")),
          line_now (g));
  if (g->parser->myDoc != NULL)
    xmlFreeDoc (g->parser->myDoc);
  xmlFreeParserCtxt (g->parser);
}

gboolean
file_xml_read (const char *text, gsize length, const char *name,
               const FileXmlHandler *handler, gpointer data, GError **error)
{
  g_return_val_if_fail (text != NULL || length == 0, FALSE);
  prepare_library ();
  Guard g = { .handler = handler, .data = data };
  g_autofree char *held = NULL;
  guint line = 0;
  if (length > FILE_XML_MAX_BYTES)
    g.error = g_error_new_literal (FILE_ERROR, FILE_ERROR_TOO_BIG,
                                   _ ("it is larger than 64 MB."));
  else if (length == 0)
    g.error = g_error_new_literal (FILE_ERROR, FILE_ERROR_BROKEN,
                                   _ ("the file is empty."));
  else if (to_utf8 (&text, &length, &held, &g.error)
           && !scan_attributes (text, length, &line))
    fail (
        &g,
        g_error_new_literal (FILE_ERROR, FILE_ERROR_TOO_BIG,
                             _ ("an element has more than 1,000 attributes.")),
        line);
  if (g.error == NULL)
    {
      g.entities
          = g_hash_table_new_full (g_str_hash, g_str_equal, NULL, free_entity);
      g.attributes = g_array_new (FALSE, FALSE, sizeof (FileXmlAttribute));
      run_parser (&g, text, length);
      g_array_free (g.attributes, TRUE);
      g_hash_table_destroy (g.entities);
    }
  if (g.error == NULL)
    return TRUE;
  file_xml_place_error (&g.error, name, g.error_line);
  g_propagate_error (error, g.error);
  return FALSE;
}

void
file_xml_place_error (GError **error, const char *name, guint line)
{
  if (error == NULL || *error == NULL)
    return;
  char *old = (*error)->message;
  /* “cape.bodkin”, line 12: what is wrong. */
  (*error)->message
      = line > 0
            ? g_strdup_printf (_ ("“%s”, line %u: %s Nothing was changed."),
                               name, line, old)
            : g_strdup_printf (_ ("“%s”: %s Nothing was changed."), name, old);
  g_free (old);
}

/* --- files -------------------------------------------------------------------- */
static gboolean
read_all (int fd, gsize size, char **text, gsize *length)
{
  char *buffer = g_try_malloc (size + 1);
  if (buffer == NULL)
    {
      errno = ENOMEM;
      return FALSE;
    }
  gsize got = 0;
  while (got < size)
    {
      ssize_t n = read (fd, buffer + got, size - got);
      if (n < 0 && errno == EINTR)
        continue;
      if (n < 0)
        {
          g_free (buffer);
          return FALSE;
        }
      if (n == 0)
        break;
      got += (gsize)n;
    }
  buffer[got] = '\0';
  *text = buffer;
  *length = got;
  return TRUE;
}

gboolean
file_xml_load (const char *path, char **text, gsize *length, GError **error)
{
  g_return_val_if_fail (path != NULL, FALSE);
  g_autofree char *name = g_filename_display_basename (path);
  GError *cause = NULL;
  struct stat st;
  /* a pipe would be waited for */
  int fd = open (path, O_RDONLY | O_CLOEXEC | O_NONBLOCK | O_NOCTTY);
  if (fd >= 0 && fstat (fd, &st) == 0 && !S_ISREG (st.st_mode))
    cause = g_error_new_literal (FILE_ERROR, FILE_ERROR_READ,
                                 S_ISDIR (st.st_mode)
                                     ? _ ("this is a folder.")
                                     : _ ("this is not an ordinary file."));
  else if (fd >= 0 && st.st_size > (off_t)FILE_XML_MAX_BYTES)
    cause = g_error_new_literal (FILE_ERROR, FILE_ERROR_TOO_BIG,
                                 _ ("it is larger than 64 MB."));
  else if (fd < 0 || !read_all (fd, (gsize)st.st_size, text, length))
    cause = g_error_new (FILE_ERROR, FILE_ERROR_READ,
                         _ ("it could not be read (%s)."), g_strerror (errno));
  if (fd >= 0)
    close (fd);
  if (cause == NULL)
    return TRUE;
  file_xml_place_error (&cause, name, 0);
  g_propagate_error (error, cause);
  return FALSE;
}
