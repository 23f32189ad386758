//! Walks one source file and notes every path it names.

use super::edges::{Code, How, Named, module_of};
use proc_macro2::{Spacing, TokenStream, TokenTree};
use syn::spanned::Spanned;
use syn::visit::{self, Visit};
use syn::{Attribute, ImplItem, Item, Meta, UseTree, Visibility};

/// Adds what `file` names to `code`.
pub(crate) fn read_file(file: &str, parsed: &syn::File, code: &mut Code) {
    let scope = module_of(file);
    let test = only_for_tests(&parsed.attrs);
    Reader { file, scope, test, public: false, code }.visit_file(parsed);
}

struct Reader<'a> {
    file: &'a str,
    scope: Vec<String>,
    test: bool,
    /// The `use` being read is not private.
    public: bool,
    code: &'a mut Code,
}

impl Reader<'_> {
    fn name(&mut self, line: usize, path: Vec<String>, how: How) {
        // `use *` names nothing
        if path.last().is_none_or(|word| word == "::") {
            return;
        }
        let (file, scope, test) = (self.file.to_owned(), self.scope.clone(), self.test);
        self.code.named.push(Named { file, line, scope, path, how, test });
    }

    fn hide(&mut self, line: usize, what: &str) {
        self.code.hidden.push((self.file.to_owned(), line, what.to_owned()));
    }

    fn import(&mut self, name: String, path: Vec<String>) {
        if path != [name.as_str()] {
            self.code.imports.entry((self.scope.clone(), name)).or_default().push(path);
        }
    }

    fn use_tree(&mut self, before: &[String], tree: &UseTree) {
        let with = |name: &syn::Ident| {
            let mut path = before.to_vec();
            // `a::{self}` is `a`
            if name != "self" || path.is_empty() {
                path.push(name.to_string());
            }
            path
        };
        match tree {
            UseTree::Path(p) => self.use_tree(&with(&p.ident), &p.tree),
            UseTree::Group(g) => g.items.iter().for_each(|t| self.use_tree(before, t)),
            UseTree::Name(n) => {
                let path = with(&n.ident);
                self.import(path.last().cloned().unwrap_or_default(), path.clone());
                self.name(n.ident.span().start().line, path, How::Use);
            }
            UseTree::Rename(r) => {
                let path = with(&r.ident);
                self.import(r.rename.to_string(), path.clone());
                self.name(r.ident.span().start().line, path, How::Use);
            }
            UseTree::Glob(g) => {
                let line = g.star_token.span().start().line;
                self.name(line, before.to_vec(), How::Glob { public: self.public });
            }
        }
    }

    /// Words of a macro or an attribute: `use` lines and `a::b::c` sequences.
    fn tokens(&mut self, tokens: TokenStream, how: How) {
        let tokens: Vec<TokenTree> = tokens.into_iter().collect();
        let mut at = 0;
        while at < tokens.len() {
            match &tokens[at] {
                TokenTree::Group(group) => self.tokens(group.stream(), how),
                TokenTree::Literal(text) if how == How::InAttribute => {
                    // as in `#[serde(with = "crate::x")]`
                    let text_inside = text.to_string();
                    if let Ok(path) = syn::parse_str::<syn::Path>(text_inside.trim_matches('"')) {
                        self.name(text.span().start().line, segments(&path), how);
                    }
                }
                TokenTree::Ident(word) if word == "use" => {
                    let len = tokens[at..].iter().take_while(|t| !is_punct(t, ';')).count();
                    let line: TokenStream = tokens[at + 1..at + len].iter().cloned().collect();
                    if let Ok(tree) = syn::parse2::<UseTree>(line) {
                        self.use_tree(&[], &tree);
                        at += len;
                        continue;
                    }
                }
                TokenTree::Ident(word) => {
                    let mut path = vec![word.to_string()];
                    while let [colon, other, TokenTree::Ident(next), ..] = &tokens[at + 1..]
                        && is_punct(colon, ':')
                        && is_punct(other, ':')
                    {
                        path.push(next.to_string());
                        at += 3;
                    }
                    let call = matches!(&tokens[at + 1..], [TokenTree::Punct(p), TokenTree::Group(_), ..]
                        if p.as_char() == '!' && p.spacing() == Spacing::Alone);
                    self.name(word.span().start().line, path, if call { How::Call } else { how });
                }
                TokenTree::Punct(_) | TokenTree::Literal(_) => {}
            }
            at += 1;
        }
    }

    fn within(&mut self, attributes: &[Attribute], go: impl FnOnce(&mut Self)) {
        let before = self.test;
        self.test |= only_for_tests(attributes);
        go(self);
        self.test = before;
    }
}

impl<'ast> Visit<'ast> for Reader<'_> {
    fn visit_item(&mut self, item: &'ast Item) {
        self.within(attributes(item), |r| visit::visit_item(r, item));
    }

    fn visit_impl_item(&mut self, item: &'ast ImplItem) {
        let attributes: &[Attribute] = match item {
            ImplItem::Fn(i) => &i.attrs,
            ImplItem::Const(i) => &i.attrs,
            ImplItem::Type(i) => &i.attrs,
            _ => &[],
        };
        self.within(attributes, |r| visit::visit_impl_item(r, item));
    }

    fn visit_item_mod(&mut self, item: &'ast syn::ItemMod) {
        let line = item.ident.span().start().line;
        if item.attrs.iter().any(|a| a.path().is_ident("path")) {
            self.hide(line, "gives a module another file with #[path]: keep a module where its name says");
        }
        self.scope.push(item.ident.to_string());
        self.code.modules.insert(self.scope.clone(), (self.file.to_owned(), line));
        if self.test && item.content.is_none() {
            self.code.test_modules.insert(self.scope.clone());
        }
        visit::visit_item_mod(self, item);
        self.scope.pop();
    }

    fn visit_item_use(&mut self, item: &'ast syn::ItemUse) {
        self.public = !matches!(item.vis, Visibility::Inherited);
        let before: &[String] = if item.leading_colon.is_some() { &["::".to_owned()] } else { &[] };
        self.use_tree(before, &item.tree);
        item.attrs.iter().for_each(|a| self.visit_attribute(a));
        self.public = false;
    }

    fn visit_item_extern_crate(&mut self, item: &'ast syn::ItemExternCrate) {
        let name = if item.ident == "self" { "crate".to_owned() } else { item.ident.to_string() };
        if let Some((_, rename)) = &item.rename {
            self.import(rename.to_string(), vec![name.clone()]);
        }
        self.name(item.ident.span().start().line, vec![name], How::Use);
    }

    fn visit_path(&mut self, path: &'ast syn::Path) {
        self.name(path.span().start().line, segments(path), How::Path);
        visit::visit_path(self, path);
    }

    /// `pub(in crate::x)` uses nothing of `x`.
    fn visit_visibility(&mut self, _: &'ast Visibility) {}

    fn visit_attribute(&mut self, attribute: &'ast Attribute) {
        self.name(attribute.path().span().start().line, segments(attribute.path()), How::Attribute);
        if let Meta::List(list) = &attribute.meta {
            self.tokens(list.tokens.clone(), How::InAttribute);
        }
    }

    fn visit_macro(&mut self, call: &'ast syn::Macro) {
        let line = call.path.span().start().line;
        if call.path.is_ident("include") {
            self.hide(line, "brings in source with include!: make it a module");
        }
        self.name(line, segments(&call.path), How::Call);
        self.tokens(call.tokens.clone(), How::Path);
    }
}

fn segments(path: &syn::Path) -> Vec<String> {
    let colons = path.leading_colon.map(|_| "::".to_owned());
    colons.into_iter().chain(path.segments.iter().map(|s| s.ident.to_string())).collect()
}

fn is_punct(token: &TokenTree, mark: char) -> bool {
    matches!(token, TokenTree::Punct(p) if p.as_char() == mark)
}

/// `#[test]`, `#[cfg(test)]`, `#[cfg(all(test, ...))]`; not `#[cfg(not(test))]`, nor `any` with more.
fn only_for_tests(attributes: &[Attribute]) -> bool {
    fn holds(meta: &Meta) -> bool {
        let nested = |list: &syn::MetaList| {
            list.parse_args_with(syn::punctuated::Punctuated::<Meta, syn::Token![,]>::parse_terminated)
                .map(|metas| metas.iter().map(holds).collect::<Vec<_>>())
                .unwrap_or_default()
        };
        match meta {
            Meta::Path(path) => path.is_ident("test"),
            Meta::List(list) if list.path.is_ident("all") => nested(list).contains(&true),
            Meta::List(list) if list.path.is_ident("any") => {
                let each = nested(list);
                !each.is_empty() && !each.contains(&false)
            }
            _ => false,
        }
    }
    attributes.iter().any(|a| match &a.meta {
        Meta::Path(path) => path.is_ident("test"),
        Meta::List(list) if list.path.is_ident("cfg") => list.parse_args::<Meta>().is_ok_and(|m| holds(&m)),
        _ => false,
    })
}

fn attributes(item: &Item) -> &[Attribute] {
    match item {
        Item::Const(syn::ItemConst { attrs, .. })
        | Item::Enum(syn::ItemEnum { attrs, .. })
        | Item::Fn(syn::ItemFn { attrs, .. })
        | Item::Impl(syn::ItemImpl { attrs, .. })
        | Item::Macro(syn::ItemMacro { attrs, .. })
        | Item::Mod(syn::ItemMod { attrs, .. })
        | Item::Static(syn::ItemStatic { attrs, .. })
        | Item::Struct(syn::ItemStruct { attrs, .. })
        | Item::Trait(syn::ItemTrait { attrs, .. })
        | Item::Type(syn::ItemType { attrs, .. })
        | Item::Use(syn::ItemUse { attrs, .. }) => attrs,
        _ => &[],
    }
}
