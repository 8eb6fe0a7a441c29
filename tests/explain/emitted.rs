//! The codes that messages can have, read from the sources.
//!
//! A code is a text that stands where a code is wanted: in a field `code`, or as the argument of a
//! function that calls its parameter `code`. Whatever stands there must be a text, the code of
//! something else (`CHECK.code`), or again a `code` that was handed in; anything else fails, so
//! that no code can be made where this search does not see it.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use syn::punctuated::Punctuated;
use syn::visit::{self, Visit};
use syn::{
    Attribute, Expr, ExprCall, ExprClosure, ExprLit, ExprMatch, ExprMethodCall, ExprPath, FieldPat,
    FieldValue, FnArg, Ident, ImplItemFn, ItemFn, ItemImpl, ItemMod, Lit, LitStr, Local, Macro,
    Member, Pat, Signature, Stmt, Token, Type, Visibility,
};

/// Every code in the sources below a folder, but for those that are only explained.
pub(crate) fn codes(sources: &Path) -> BTreeSet<String> {
    let explained = [sources.join("explain"), sources.join("diagnostic/explanation.rs")];
    let counts = |path: &PathBuf| !explained.iter().any(|part| path.starts_with(part));
    let parsed = |path: PathBuf| {
        let text = fs::read_to_string(&path).unwrap();
        let file = syn::parse_file(&text).unwrap_or_else(|error| panic!("{path:?}: {error}"));
        (path, file)
    };
    let files: Vec<(PathBuf, syn::File)> =
        files(sources).into_iter().filter(counts).map(parsed).collect();
    let mut takers = Takers::default();
    for (path, file) in &files {
        takers.path = path.display().to_string();
        takers.visit_file(file);
    }
    let mut search = Search { takers, ..Search::default() };
    for (path, file) in &files {
        search.path = path.display().to_string();
        search.visit_file(file);
    }
    assert_eq!(search.strange, [""; 0], "no code can be read from what stands here");
    search.codes
}

fn files(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            found.extend(files(&path));
        } else if path.extension().is_some_and(|extension| extension == "rs")
            && !path.ends_with("tests.rs")
        {
            found.push(path);
        }
    }
    found
}

/// The functions with a parameter `code`, as they are called (`Diagnostic::error`, `.error`,
/// `unknown_name`), and which argument of how many that is. Those that one file keeps for itself
/// have its path in front.
#[derive(Default)]
struct Takers {
    taken: BTreeMap<String, (usize, usize)>,
    path: String,
    /// The type whose functions are read.
    of: String,
}

impl Takers {
    fn note(&mut self, name: String, argument: usize, of: usize) {
        let before = self.taken.insert(name.clone(), (argument, of));
        assert!(before.is_none_or(|before| before == (argument, of)), "two functions: {name}");
    }

    fn note_function(&mut self, of: &str, function: &Signature) {
        let Some(argument) = function.inputs.iter().position(is_code_argument) else { return };
        let inputs = function.inputs.len();
        match function.receiver() {
            Some(_) => self.note(format!(".{}", function.ident), argument - 1, inputs - 1),
            None => self.note(format!("{of}{}", function.ident), argument, inputs),
        }
    }

    /// Which argument of how many is a code, as a function is called in the file with this path.
    fn argument(&self, path: &str, called: &str) -> Option<(usize, usize)> {
        self.taken.get(&format!("{path} {called}")).or_else(|| self.taken.get(called)).copied()
    }
}

impl Visit<'_> for Takers {
    fn visit_item_mod(&mut self, module: &ItemMod) {
        if !is_test(module) {
            visit::visit_item_mod(self, module);
        }
    }

    fn visit_item_impl(&mut self, of: &ItemImpl) {
        if let Type::Path(of) = &*of.self_ty {
            self.of = last(&of.path);
        }
        visit::visit_item_impl(self, of);
    }

    fn visit_impl_item_fn(&mut self, function: &ImplItemFn) {
        self.note_function(&format!("{}::", self.of), &function.sig);
        visit::visit_impl_item_fn(self, function);
    }

    fn visit_item_fn(&mut self, function: &ItemFn) {
        let own = matches!(function.vis, Visibility::Inherited);
        let of = if own { format!("{} ", self.path) } else { String::new() };
        self.note_function(&of, &function.sig);
        visit::visit_item_fn(self, function);
    }

    fn visit_local(&mut self, local: &Local) {
        if let (Pat::Ident(name), Some(init)) = (&local.pat, &local.init)
            && let Expr::Closure(closure) = &*init.expr
            && let Some(argument) = closure.inputs.iter().position(is_called_code)
        {
            self.note(format!("{} {}", self.path, name.ident), argument, closure.inputs.len());
        }
        visit::visit_local(self, local);
    }
}

/// The codes in the files that were visited.
#[derive(Default)]
struct Search {
    takers: Takers,
    codes: BTreeSet<String>,
    /// Where something stands that no code can be read from.
    strange: Vec<String>,
    path: String,
    /// Whether a code is what `code` means, in each function around.
    means_code: Vec<bool>,
}

impl Search {
    /// The codes that an expression can be, beside those that are read elsewhere; `None` where it
    /// may be anything.
    fn read(&self, expr: &Expr) -> Option<BTreeSet<String>> {
        let none = || Some(BTreeSet::new());
        match expr {
            Expr::Lit(ExprLit { lit: Lit::Str(text), .. }) => Some(BTreeSet::from([text.value()])),
            Expr::Match(choice) => {
                let arms: Option<Vec<_>> =
                    choice.arms.iter().map(|arm| self.read(&arm.body)).collect();
                Some(arms?.into_iter().flatten().collect())
            }
            Expr::Field(field) if is_code(&field.member) => none(),
            Expr::MethodCall(call) if call.method == "code" => none(),
            Expr::Path(path) if path.path.is_ident("code") => {
                self.means_code.last().copied().unwrap_or(false).then(BTreeSet::new)
            }
            _ => None,
        }
    }

    /// Notes what stands where a code is wanted.
    fn code(&mut self, expr: &Expr, wanted_by: &str) {
        match self.read(expr) {
            Some(codes) => self.codes.extend(codes),
            None => self.strange.push(format!("{}: {wanted_by}", self.path)),
        }
    }

    fn means(&mut self, a_code: bool) {
        if let Some(means) = self.means_code.last_mut() {
            *means = a_code;
        }
    }

    fn function(&mut self, takes_code: bool, visit: impl FnOnce(&mut Search)) {
        self.means_code.push(takes_code);
        visit(self);
        self.means_code.pop();
    }

    fn call(&mut self, name: &str, arguments: &Punctuated<Expr, Token![,]>) {
        // With another number of arguments it is another function of that name.
        let Some((argument, of)) = self.takers.argument(&self.path, name) else { return };
        if let Some(code) = arguments.get(argument).filter(|_| arguments.len() == of) {
            self.code(code, name);
        }
    }
}

impl Visit<'_> for Search {
    fn visit_item_mod(&mut self, module: &ItemMod) {
        if !is_test(module) {
            visit::visit_item_mod(self, module);
        }
    }

    fn visit_expr_call(&mut self, call: &ExprCall) {
        match &*call.func {
            Expr::Path(function) => self.call(&called(&function.path), &call.args),
            function => self.visit_expr(function),
        }
        call.args.iter().for_each(|argument| self.visit_expr(argument));
    }

    /// A function that is handed on could be given any code.
    fn visit_expr_path(&mut self, path: &ExprPath) {
        let name = called(&path.path);
        if name.contains("::") && self.takers.argument(&self.path, &name).is_some() {
            self.strange.push(format!("{}: {name} is no call", self.path));
        }
    }

    fn visit_expr_method_call(&mut self, call: &ExprMethodCall) {
        self.call(&format!(".{}", call.method), &call.args);
        visit::visit_expr_method_call(self, call);
    }

    fn visit_field_value(&mut self, field: &FieldValue) {
        if is_code(&field.member) {
            self.code(&field.expr, "a field");
        }
        visit::visit_field_value(self, field);
    }

    fn visit_item_fn(&mut self, function: &ItemFn) {
        let takes = function.sig.inputs.iter().any(is_code_argument);
        self.function(takes, |search| visit::visit_item_fn(search, function));
    }

    /// A function `code` gives a code.
    fn visit_impl_item_fn(&mut self, function: &ImplItemFn) {
        if function.sig.ident == "code" {
            match function.block.stmts.as_slice() {
                [Stmt::Expr(expr, None)] => self.code(expr, "fn code"),
                _ => self.strange.push(format!("{}: fn code", self.path)),
            }
        }
        let takes = function.sig.inputs.iter().any(is_code_argument);
        self.function(takes, |search| visit::visit_impl_item_fn(search, function));
    }

    /// A closure without a name may be handed anything.
    fn visit_expr_closure(&mut self, closure: &ExprClosure) {
        let around = self.means_code.last().copied().unwrap_or(false);
        let means = around && !closure.inputs.iter().any(is_called_code);
        self.function(means, |search| visit::visit_expr_closure(search, closure));
    }

    fn visit_local(&mut self, local: &Local) {
        let Some(init) = &local.init else { return visit::visit_local(self, local) };
        match (&local.pat, &*init.expr) {
            (Pat::Ident(_), Expr::Closure(closure))
                if closure.inputs.iter().any(is_called_code) =>
            {
                self.function(true, |search| search.visit_expr(&closure.body));
                return;
            }
            (Pat::Struct(whole), _) => {
                let has_code = |field: &FieldPat| is_code(&field.member);
                if whole.fields.iter().any(has_code) {
                    self.means(true);
                }
            }
            (name, init) if is_called_code(name) => match self.read(init) {
                Some(codes) => {
                    self.codes.extend(codes);
                    self.means(true);
                }
                None => self.means(false),
            },
            _ => {}
        }
        visit::visit_local(self, local);
    }

    /// Codes that are looked for are codes too.
    fn visit_expr_match(&mut self, choice: &ExprMatch) {
        if matches!(&*choice.expr, Expr::Field(field) if is_code(&field.member)) {
            for arm in &choice.arms {
                Texts(&mut self.codes).visit_pat(&arm.pat);
            }
        }
        visit::visit_expr_match(self, choice);
    }

    /// What stands in a macro is no tree yet; most macros hold expressions.
    fn visit_macro(&mut self, written: &Macro) {
        match written.parse_body_with(Punctuated::<Expr, Token![,]>::parse_terminated) {
            Ok(expressions) => {
                expressions.iter().for_each(|expr| Visit::visit_expr(self, expr));
            }
            Err(_) => {
                let text = written.tokens.to_string();
                if ["Diagnostic", "Fault", "error", "warning"]
                    .iter()
                    .any(|word| text.contains(word))
                {
                    self.strange.push(format!("{}: {}!", self.path, last(&written.path)));
                }
            }
        }
    }
}

/// Notes the texts of a pattern.
struct Texts<'c>(&'c mut BTreeSet<String>);

impl Visit<'_> for Texts<'_> {
    fn visit_lit_str(&mut self, text: &LitStr) {
        self.0.insert(text.value());
    }
}

fn is_test(module: &ItemMod) -> bool {
    let of_tests = |one: &Attribute| {
        one.path().is_ident("cfg") && one.parse_args::<Ident>().is_ok_and(|what| what == "test")
    };
    module.attrs.iter().any(of_tests)
}

fn is_code_argument(input: &FnArg) -> bool {
    match input {
        FnArg::Typed(typed) => is_called_code(&typed.pat) && is_text(&typed.ty),
        FnArg::Receiver(_) => false,
    }
}

fn is_called_code(pattern: &Pat) -> bool {
    match pattern {
        Pat::Ident(name) => name.ident == "code",
        Pat::Type(typed) => is_called_code(&typed.pat),
        _ => false,
    }
}

fn is_text(ty: &Type) -> bool {
    matches!(ty, Type::Reference(to) if matches!(&*to.elem, Type::Path(of) if last(&of.path) == "str"))
}

fn is_code(member: &Member) -> bool {
    matches!(member, Member::Named(name) if name == "code")
}

/// A function as it is called: with its type, if it has one.
fn called(path: &syn::Path) -> String {
    let mut segments = path.segments.iter().rev().map(|segment| segment.ident.to_string());
    match (segments.next(), segments.next()) {
        (Some(name), Some(of)) if of.starts_with(char::is_uppercase) => format!("{of}::{name}"),
        (name, _) => name.unwrap_or_default(),
    }
}

fn last(path: &syn::Path) -> String {
    path.segments.last().map_or_else(String::new, |segment| segment.ident.to_string())
}
